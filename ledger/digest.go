package ledger

import (
	"cmp"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"hash"
	"maps"
	"slices"
	"strings"
	"sync"

	"fishplate/ledger/revision"
	"fishplate/ledger/schema"
)

// digestTag heads what is hashed, and its version the digest itself, so that a
// digest made by another form of it is never taken for a changed ledger.
const (
	digestTag     = "fishplate ledger"
	DigestVersion = "v2:"
)

type digestKey struct{}

// Digest is a fingerprint of what the ledger says: SHA-256 over a tag and the
// sorted, length-prefixed (entry, key, type, value) of every entry, each value
// as authored with its spacing and the spelling of its unit made canonical.
//
// In it are the build's entries, the shared ones that they name, the packs
// that apply, the shop's limits for these packs' rules, and the shop's
// questions that are asked of it and rules that it is judged by. Not in it are the
// stage that the build has reached, the signatures, what was paid and to whom,
// and all that is only layout: files, order, comments, ways to write the same TOML. Documents are
// in it by the SHA-256 that their entries hold.
func (b *Build) Digest() string {
	return memo(b, digestKey{}, func() string {
		h := newCanonical()
		h.write(digestTag, DigestVersion)
		b.digestPacks(h)
		b.digestLimits(h)
		var values []Value
		used := map[schema.Use]map[string]bool{schema.AsHookup: b.hookupsUsed(), schema.AsWord: b.wordsUsed(), schema.AsQuestion: b.questionsAsked(), schema.AsRule: b.rulesApply()}
		for _, e := range b.Entries() {
			switch {
			case e.schema.Undigest:
			case e.schema.IfUsed != schema.NoUse && !used[e.schema.IfUsed][e.ID]:
			default:
				values = e.values(values)
				e.digest(h, values)
			}
		}
		return DigestVersion + hex.EncodeToString(h.Sum(nil))
	})
}

// SignedDigest is what a signature of the ledger holds: a fingerprint of its
// digest with the stage that is signed for, by whom and on what day, so that
// none of these can be put under another signature.
func (b *Build) SignedDigest(stage, by, date string) string {
	h := newCanonical()
	h.write(digestTag, DigestVersion, "signature", b.Digest(), stage, by, date)
	return DigestVersion + hex.EncodeToString(h.Sum(nil))
}

// Latest is the last day that the ledger speaks of: every date under the digest
// but the one on which a waiver ends and, until the build is delivered, the
// revision's dates.
func (b *Build) Latest() string {
	last := b.LastDated().Text
	if b.Info().Delivered.Known() {
		return last
	}
	return max(last, b.revised)
}

// LastDated is the latest date under the digest, save that on which a waiver
// ends: its Key is the whole name of the value, part.x.fitted-on.
func (b *Build) LastDated() Value {
	return memo(b, lastDatedKey{}, func() Value {
		last := Value{Place: b.main}
		for _, e := range b.Entries() {
			if e.schema.Undigest || e.Kind == "build" || e.schema.ShopOnly {
				continue
			}
			for _, v := range e.dates() {
				if v.Field != nil && !v.Field.Ends && !v.Field.Commercial && v.Text > last.Text {
					last, last.Key = v, e.Path()+"."+v.Key
				}
			}
		}
		return last
	})
}

type lastDatedKey struct{}

// questionsAsked are the shop's questions that are asked of the build, or may be.
func (b *Build) questionsAsked() map[string]bool {
	asked := map[string]bool{}
	for _, v := range b.Questions() {
		asked[v.ID()] = !b.Asks(v).OrElse(true).Fails()
	}
	return asked
}

// canonical hashes records. Each field has its length before it and each
// record how many fields it has, so that no two sequences hash the same bytes.
type canonical struct {
	hash.Hash
	record []byte // the one being written
}

func newCanonical() *canonical { return &canonical{Hash: sha256.New()} }

func (h *canonical) write(fields ...string) {
	buf := binary.AppendUvarint(h.record[:0], uint64(len(fields)))
	for _, f := range fields {
		buf = binary.AppendUvarint(buf, uint64(len(f)))
		buf = append(buf, f...)
	}
	h.Write(buf)
	h.record = buf
}

// digest writes an entry. One that holds nothing is there all the same, save
// [build] and [vehicle], which say nothing by being there.
func (e *Entry) digest(h *canonical, values []Value) {
	path := e.Path()
	if !e.schema.Bare {
		h.write("entry", path)
	}
	for _, v := range values {
		top, _, _ := strings.Cut(v.Key, ".")
		if f := e.schema.Field(top); f != nil && !f.Digested() {
			continue
		}
		h.write("value", path, v.Key, v.Type, v.Text)
	}
}

// digestPacks writes which packs apply, whoever named them and in what order.
// Where no one did all apply, of whatever program reads the ledger.
func (b *Build) digestPacks(h *canonical) {
	if b.Packs == nil {
		h.write("packs", "all")
		return
	}
	h.write(append([]string{"packs", "these"}, slices.Sorted(maps.Keys(b.packNames()))...)...)
}

func (b *Build) packNames() map[string]bool {
	out := map[string]bool{}
	for _, w := range b.Packs {
		out[w.String()] = true
	}
	return out
}

func (b *Build) digestLimits(h *canonical) {
	named := b.packNames()
	for _, rule := range slices.Sorted(maps.Keys(b.Limits)) {
		if pack, _, _ := strings.Cut(rule, "/"); b.Packs == nil || named[pack] || pack == OwnRules {
			h.write("limit", rule, b.Limits[rule].Value.Spelling())
		}
	}
}

// hookupsUsed are the kinds of hookup that the build's parts need or give.
func (b *Build) hookupsUsed() map[string]bool {
	out := map[string]bool{}
	for _, p := range b.Parts() {
		for kind := range p.Needs {
			out[kind] = true
		}
		for kind := range p.Gives {
			out[kind] = true
		}
	}
	return out
}

// wordsUsed are the words of the build's entries, as the lists spell them; none
// where the shop has no words of its own.
func (b *Build) wordsUsed() map[string]bool {
	out := map[string]bool{}
	if !slices.ContainsFunc(b.Entries(), func(e *Entry) bool { return e.schema.IfUsed == schema.AsWord }) {
		return out
	}
	var values []Value
	for _, e := range b.Entries() {
		values = e.values(values)
		for _, v := range values {
			if v.Type == "word" {
				out[spelled(v.Text)] = true
			}
		}
	}
	return out
}

// files digests the files of a build, each once. It is shared by all that is
// laid over the build.
type files struct {
	digest func(name string) (string, error)
	read   func(name string, most int64) ([]byte, error)
	mu     sync.Mutex
	known  map[string]fileDigest
}

type fileDigest struct {
	sum string
	err error
}

// FileDigest is the SHA-256, in lower-case hexadecimal, of a file in the build
// folder, named relative to it with slashes. Its error says in words what is
// wrong with the file, without its name: gone, outside the folder, unreadable.
func (b *Build) FileDigest(name string) (string, error) {
	f := b.files
	if f == nil {
		return "", errors.New("the ledger was not read from a folder, so its files cannot be looked at")
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	// One file has one entry here, however often a dot is put into its name.
	// Two dots stay as they are: past a link they lead elsewhere.
	name = plainName(name)
	d, ok := f.known[name]
	if !ok {
		d.sum, d.err = f.digest(name)
		f.known[name] = d
	}
	return d.sum, d.err
}

// KeepFileDigests takes the digests of files that an earlier reading of the build
// knows, for someone who knows that no file but the ledger's own changed since.
func (b *Build) KeepFileDigests(from *Build) {
	if from.files != nil && b.files != nil {
		b.files = &files{known: from.files.all(), digest: b.files.digest, read: b.files.read}
	}
}

func (f *files) all() map[string]fileDigest {
	f.mu.Lock()
	defer f.mu.Unlock()
	return maps.Clone(f.known)
}

// FileContent is a file in the build folder of at most so many bytes, named as in
// FileDigest, with such an error.
func (b *Build) FileContent(name string, most int64) ([]byte, error) {
	if b.files == nil {
		return nil, errors.New("the ledger was not read from a folder, so its files cannot be looked at")
	}
	return b.files.read(plainName(name), most)
}

// plainName is a name without the parts that stand for the same folder.
func plainName(name string) string {
	parts := strings.Split(name, "/")
	kept := slices.DeleteFunc(slices.Clone(parts[1:]), func(p string) bool { return p == "" || p == "." })
	if parts[0] != "." {
		kept = append(parts[:1], kept...)
	}
	return cmp.Or(strings.Join(kept, "/"), ".")
}

func filesOf(src *revision.Build) *files {
	return &files{known: map[string]fileDigest{}, digest: func(name string) (string, error) {
		sum, _, err := src.Digest(name)
		if err != nil {
			err = errors.New(message(err))
		}
		return sum, err
	}, read: func(name string, most int64) ([]byte, error) {
		content, err := src.Document(name, most)
		if err != nil {
			err = errors.New(message(err))
		}
		return content, err
	}}
}
