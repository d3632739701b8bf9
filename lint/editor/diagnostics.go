package editor

import (
	"cmp"
	"maps"
	"path/filepath"
	"reflect"
	"slices"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/ledger/syntax"
	"fishplate/lint/report"
)

// plain is text without control characters.
func plain(text string) string { return report.Clean(text) }

// staleMark stands before what was found before a file could not be read.
const staleMark = "as it was before a file could not be read: "

// told is what was published of a file.
type told struct {
	uri         string
	version     *int
	diagnostics []Diagnostic
}

// refresh reads and judges what is to be, and tells what came of it.
func (s *server) refresh() {
	changed := false
	for _, b := range s.builds {
		if !b.dirty && !b.judgeSoon {
			continue
		}
		changed = true
		if b.dirty {
			s.read(b)
		}
		if b.judgeSoon || b.last == nil {
			s.judge(b)
		}
		b.found = s.diagnostics(b)
	}
	if changed || s.loose {
		s.tell()
	}
}

// tell publishes what is another than it was.
func (s *server) tell() {
	s.loose = false
	now := map[string][]Diagnostic{}
	for _, b := range s.builds {
		for path, list := range b.found {
			now[path] = append(now[path], list...)
		}
	}
	for path, d := range s.docs {
		if _, in := now[path]; !in {
			now[path] = loose(d, s.encoding)
		}
	}
	for path := range s.told {
		if _, in := now[path]; !in {
			now[path] = nil
		}
	}
	for _, path := range slices.Sorted(maps.Keys(now)) {
		s.tellFile(path, sorted(now[path]))
	}
}

// tellFile publishes what there is to tell of a file, unless it was.
func (s *server) tellFile(path string, list []Diagnostic) {
	was, uri, version := s.told[path], uriOf(path), (*int)(nil)
	if d := s.docs[path]; d != nil {
		uri, version = d.uri, d.version
	}
	if was != nil && was.uri == uri && equal(was.version, version) && reflect.DeepEqual(was.diagnostics, list) {
		return
	}
	if was == nil && len(list) == 0 && s.docs[path] == nil {
		return
	}
	s.told[path] = &told{uri, version, list}
	if len(list) == 0 && s.docs[path] == nil {
		delete(s.told, path)
	}
	s.publish(uri, version, list)
}

func (s *server) publish(uri string, version *int, list []Diagnostic) {
	if list == nil {
		list = []Diagnostic{}
	}
	s.notify("textDocument/publishDiagnostics", publishParams{uri, version, list})
}

// diagnostics are what there is to tell of a build, by the path of a file.
func (s *server) diagnostics(b *build) map[string][]Diagnostic {
	out := map[string][]Diagnostic{}
	for path := range b.files {
		if s.docs[path] != nil {
			out[path] = nil
		}
	}
	add := func(m mark, d Diagnostic) {
		d.Range, d.Source = b.rangeOf(m, s.encoding), "fishplate"
		out[m.file] = append(out[m.file], d)
	}
	for _, f := range b.b.Faults {
		add(b.markOf(f.Place), Diagnostic{Severity: Error, Code: "fault", Message: plain(f.Message)})
	}
	for _, f := range b.last.faults {
		add(f.at, Diagnostic{Severity: Error, Code: "fault", Message: plain(f.says)})
	}
	for _, n := range b.last.notes {
		add(n.at, Diagnostic{Severity: Information, Code: "note", Message: plain(n.says)})
	}
	before := ""
	if b.stale() {
		before = staleMark
	}
	for _, f := range b.last.findings {
		add(f.at, Diagnostic{Severity: f.severity, Code: f.check.Rule.Name, Message: before + f.says, Related: s.related(b, f)})
	}
	return out
}

// related are the contributors of a finding, where the editor shows such.
func (s *server) related(b *build, f finding) []Related {
	if !s.client.Capabilities.TextDocument.PublishDiagnostics.RelatedInformation {
		return nil
	}
	var out []Related
	for _, c := range f.others {
		out = append(out, Related{Location{s.uri(c.at.file), b.rangeOf(c.at, s.encoding)}, c.says})
	}
	return out
}

// uri is the name of a file as the editor knows it.
func (s *server) uri(path string) string {
	if d := s.docs[path]; d != nil {
		return d.uri
	}
	return uriOf(path)
}

// loose are what is wrong with a file that no build reads and that may become the
// first of one; nothing of any other.
func loose(d *document, e Encoding) []Diagnostic {
	if name := filepath.Base(d.path); name != ledger.MainFile && name != shopFile {
		return nil
	}
	var out []Diagnostic
	f := file{text: d.text, doc: syntax.Read([]byte(d.text.s))}
	for _, x := range f.doc.Faults {
		out = append(out, Diagnostic{f.wordAt(quantity.Place{Line: x.At.Line, Column: x.At.Column}, e), Error, "fault", "fishplate", plain(x.Message), nil})
	}
	return out
}

// sorted are diagnostics in the order of the file, the gravest of a place first, each
// once: of a shop's file several builds tell the same.
func sorted(list []Diagnostic) []Diagnostic {
	slices.SortStableFunc(list, func(a, b Diagnostic) int {
		x, y := a.Range.Start, b.Range.Start
		return cmp.Or(cmp.Compare(x.Line, y.Line), cmp.Compare(x.Character, y.Character), cmp.Compare(a.Severity, b.Severity),
			cmp.Compare(a.Code, b.Code), cmp.Compare(a.Message, b.Message))
	})
	return slices.CompactFunc(list, func(a, b Diagnostic) bool { return reflect.DeepEqual(a, b) })
}

func equal(a, b *int) bool { return a == nil && b == nil || a != nil && b != nil && *a == *b }
