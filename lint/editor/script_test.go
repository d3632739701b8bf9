package editor

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/golden"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
)

func TestMain(m *testing.M) { os.Exit(golden.Tests{M: m}.Run()) }

// madeUp are rules for trying things out, so that these tests do not change when a
// real rule does.
func madeUp() []*lint.Pack {
	book := q.Citation{Key: "handbook", Text: "A Handbook of Scales, page 12"}
	return []*lint.Pack{{Name: "toy", Title: "made-up rules", Rules: []*lint.Rule{
		{Name: "toy/front-axle", Title: "the front axle carries no more than its rating", Due: ledger.AtPlan, Sources: []q.Citation{book},
			Check: func(b *ledger.Build, s *lint.Sheet) {
				base := b.Vehicle().Wheelbase
				var terms []q.Quantity
				for _, p := range b.Parts() {
					terms = append(terms, p.Mass.Mul(q.Number(1).Sub(b.Now(p.At).X.Div(base))).As("share of "+p.Path(), "mass × (1 - behind / wheelbase)"))
				}
				s.On(b.Front(), "").AtMost(q.Sum(q.Mass, terms...).As("front load", "sum of the parts' shares"), b.Front().Rating)
			}},
		{Name: "toy/gap", Title: "an inch is left between what moves", Due: ledger.AtAssembly, Sources: []q.Citation{book},
			Check: func(b *ledger.Build, s *lint.Sheet) {
				for _, g := range b.Gaps() {
					s.On(g, "").AtLeast(g.Measured.Sub(g.Motion), q.Cited("least gap", "1 in", "A Handbook of Scales, page 12"))
				}
			}},
	}}}
}

// TestScripts talks with the server as testdata/*.txt say, and holds what it says
// against what stands there. A line that begins with > is what the editor does; what
// comes of it stands below, behind <. UPDATE=1 writes that anew.
func TestScripts(t *testing.T) {
	names, err := filepath.Glob("testdata/*.txt")
	require.NoError(t, err)
	require.NotEmpty(t, names)
	for _, name := range names {
		t.Run(filepath.Base(name), func(t *testing.T) {
			archive, err := txtar.ParseFile(name)
			require.NoError(t, err)
			dir := t.TempDir()
			for _, f := range archive.Files {
				path := filepath.Join(dir, f.Name)
				require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
				require.NoError(t, os.WriteFile(path, unescaped(f.Data), 0o644))
			}
			stage := ledger.AtPlan
			s := &script{editorClient: start(t, dir, madeUp(), lint.Options{Today: "2026-03-01", Stage: &stage})}
			var out strings.Builder
			for _, line := range strings.SplitAfter(string(archive.Comment), "\n") {
				if strings.HasPrefix(line, "<") {
					continue
				}
				out.WriteString(line)
				if words, ok := strings.CutPrefix(strings.TrimSpace(line), "> "); ok {
					for _, l := range s.do(words) {
						l = strings.ReplaceAll(strings.ReplaceAll(l, uriOf(s.dir), "DIR"), s.dir, "DIR")
						out.WriteString("< " + l + "\n")
					}
				}
			}
			archive.Comment = []byte(out.String())
			golden.Check(t, name, string(txtar.Format(archive)))
		})
	}
}

// unescaped is a file's text with the letters that these scripts cannot hold: \r, and
// \uFEFF at its beginning.
func unescaped(data []byte) []byte {
	text := strings.ReplaceAll(string(data), "\\r\n", "\r\n")
	if rest, ok := strings.CutPrefix(text, "\\uFEFF"); ok {
		text = byteOrderMark + rest
	}
	return []byte(text)
}

type script struct {
	*editorClient
	version int
}

// do does one line and gives what came of it.
func (s *script) do(line string) []string {
	word, rest, _ := strings.Cut(line, " ")
	name, rest2, _ := strings.Cut(rest, " ")
	switch word {
	case "ask": // METHOD PARAMS
		if strings.Contains(rest2, `"utf-8"`) {
			s.units = UTF8
		}
		return s.asked(name, json.RawMessage(orNull(s.filled(rest2))))
	case "note":
		s.note(name, json.RawMessage(orNull(s.filled(rest2))))
	case "raw": // a body as it is
		s.send(rest)
	case "open":
		s.open(name)
	case "new": // a file that is not on the disk: NAME "TEXT"
		s.openAs(name, s.strings(rest2)[0])
	case "close", "save":
		s.note("textDocument/did"+strings.ToUpper(word[:1])+word[1:], object{"textDocument": object{"uri": s.uri(name)}})
	case "edit": // NAME "OLD" "NEW"
		s.version++
		both := s.strings(rest2)
		s.edit(name, 1+s.version, both[0], both[1])
	case "pause":
		s.rest()
	case "remove":
		require.NoError(s.t, os.RemoveAll(filepath.Join(s.dir, name)))
		s.note("workspace/didChangeWatchedFiles", object{"changes": []object{}})
	case "move":
		require.NoError(s.t, os.Rename(filepath.Join(s.dir, name), filepath.Join(s.dir, rest2)))
		s.note("workspace/didChangeWatchedFiles", object{"changes": []object{}})
	case "at": // NAME "PART" METHOD PARAMS
		var part string
		dec := json.NewDecoder(strings.NewReader(rest2))
		require.NoError(s.t, dec.Decode(&part), rest2)
		method, more, _ := strings.Cut(strings.TrimSpace(rest2[dec.InputOffset():]), " ")
		p := s.at(name, part)
		if method == "codeAction" {
			p["range"], p["context"] = Range{p["position"].(Position), p["position"].(Position)}, object{"diagnostics": []string{}}
		}
		if more != "" {
			require.NoError(s.t, json.Unmarshal([]byte(more), &p))
		}
		return s.asked("textDocument/"+method, p)
	case "exit":
		s.note("exit", nil)
		return []string{fmt.Sprintf("ended as it should: %t", <-s.clean)}
	default:
		s.t.Fatalf("what is %q?", line)
	}
	if word == "raw" && strings.Contains(rest, `"exit"`) {
		return nil
	}
	return s.told()
}

func orNull(text string) string {
	if text == "" {
		return "null"
	}
	return text
}

// filled has the folder in the place of DIR.
func (s *script) filled(text string) string { return strings.ReplaceAll(text, "DIR", uriOf(s.dir)) }

func (s *script) strings(text string) []string {
	var out []string
	dec := json.NewDecoder(strings.NewReader(text))
	for dec.More() {
		var one string
		require.NoError(s.t, dec.Decode(&one), text)
		out = append(out, one)
	}
	return out
}

func (s *script) told() []string { return shown(s.settle()) }

func (s *script) asked(method string, params any) []string {
	m := s.ask(method, params)
	out := shown(s.notes)
	s.notes = nil
	if m.Error != nil {
		return append(out, fmt.Sprintf("error %d: %s", m.Error.Code, m.Error.Message))
	}
	return append(out, lines("", m.Result)...)
}

// shown are messages as a script has them: a list a line each.
func shown(list []heard) []string {
	var out []string
	for _, m := range list {
		switch m.Method {
		case "textDocument/publishDiagnostics":
			var p struct {
				URI         string
				Version     *int
				Diagnostics json.RawMessage
			}
			_ = json.Unmarshal(m.Params, &p)
			head := p.URI
			if p.Version != nil {
				head += fmt.Sprint(", version ", *p.Version)
			}
			out = append(out, lines(head+": ", p.Diagnostics)...)
		case "":
			text, _ := json.Marshal(m.Error)
			out = append(out, fmt.Sprintf("to %s: %s", m.ID, text))
		default:
			out = append(out, m.Method+" "+string(m.Params))
		}
	}
	return out
}

// mostItems is how many offers for completion a script shows.
const mostItems = 8

// lines are a value on one line, or of a list each on its own.
func lines(head string, value json.RawMessage) []string {
	var list []json.RawMessage
	var box struct{ Items, DocumentChanges []json.RawMessage }
	_ = json.Unmarshal(value, &box)
	switch {
	case json.Unmarshal(value, &list) == nil && string(value) != "null" && len(list) > 0:
	case len(box.Items) > 0:
		list = box.Items
	case len(box.DocumentChanges) > 0:
		list = box.DocumentChanges
	default:
		return []string{head + string(value)}
	}
	out := []string{head + fmt.Sprint(len(list))}
	for i, one := range list {
		if len(box.Items) > mostItems && i == mostItems {
			return append(out, "  ...")
		}
		out = append(out, "  "+string(one))
	}
	return out
}
