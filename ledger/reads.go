package ledger

import "fishplate/ledger/schema"

// Reads are the kinds of entry that some work on a build looked at: where no entry
// of these is another, it would come to the same.
type Reads struct {
	all   bool
	kinds map[*schema.Kind]bool
}

// Reading does some work on a build and gives what it looked at.
func (b *Build) Reading(work func()) *Reads {
	outer, mine := b.reads, &Reads{kinds: map[*schema.Kind]bool{}}
	b.reads = mine
	defer func() {
		b.reads = outer
		outer.add(mine)
	}()
	work()
	return mine
}

// IsRead tells that it is noted what is looked at.
func (b *Build) IsRead() bool { return b.reads != nil }

// Of tells whether the work looked at one of some kinds.
func (r *Reads) Of(kinds map[*schema.Kind]bool) bool {
	if r.all {
		return len(kinds) > 0
	}
	for k := range kinds {
		if r.kinds[k] {
			return true
		}
	}
	return false
}

func (r *Reads) note(k *schema.Kind) {
	if r != nil {
		r.kinds[k] = true
	}
}

func (r *Reads) noteAll() {
	if r != nil {
		r.all = true
	}
}

// add notes what other work looked at.
func (r *Reads) add(other *Reads) {
	if r == nil {
		return
	}
	r.all = r.all || other.all
	for k := range other.kinds {
		r.kinds[k] = true
	}
}

// Changed are the kinds of the entries that two readings of a build do not have
// alike, value by value; the lines that they stand on make no difference.
func (b *Build) Changed(since *Build) map[*schema.Kind]bool {
	out := map[*schema.Kind]bool{}
	was := map[string]*Entry{}
	for _, e := range since.Entries() {
		was[e.path] = e
	}
	for _, e := range b.Entries() {
		if old := was[e.path]; old == nil || !e.alike(old) {
			out[e.schema] = true
		}
		delete(was, e.path)
	}
	for _, e := range was {
		out[e.schema] = true
	}
	return out
}

// alike tells that an entry says what another does.
func (e *Entry) alike(f *Entry) bool {
	if e == f {
		return true
	}
	a, b := e.Values(), f.Values()
	if len(a) != len(b) || e.Shop != f.Shop || e.damaged || f.damaged {
		return false
	}
	for i, v := range a {
		if w := b[i]; v.Key != w.Key || v.Type != w.Type || v.Text != w.Text {
			return false
		}
	}
	return true
}
