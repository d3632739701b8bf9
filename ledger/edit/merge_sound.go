package edit

import "reflect"

// sound tells that the merged file says what either side's changes ask for, on
// either side of what both changed, and has every comment that no side took away.
func (m *merger) sound() bool {
	for side, of := range map[*parts]func(chunk) string{m.ours: oursOf, m.theirs: theirsOf} {
		got, err := partsOf([]byte(m.text(of)))
		if err != nil || !reflect.DeepEqual(got.values(), m.asked(side)) {
			return false
		}
	}
	for _, all := range []map[string]int{m.ours.all, m.theirs.all} {
		for c := range all {
			if m.kept(c) && m.told[c] == 0 {
				return false
			}
		}
	}
	return true
}

// kept tells that no side took a comment away.
func (m *merger) kept(c string) bool {
	return m.base.all[c] == 0 || m.ours.all[c] > 0 && m.theirs.all[c] > 0
}

// asked is what the merged file has to say, every value by its path, where what
// both changed is as on one side.
func (m *merger) asked(side *parts) map[string]any {
	b, o, t, mine := m.base.values(), m.ours.values(), m.theirs.values(), side.values()
	out := map[string]any{}
	for _, values := range []map[string]any{o, t} {
		for path := range values {
			v, ok := o[path]
			switch {
			case m.whole[m.ours.home[path]], m.whole[m.theirs.home[path]]:
				v, ok = mine[path]
			case same(o, t, path), same(t, b, path):
			case same(o, b, path):
				v, ok = t[path]
			default:
				v, ok = mine[path]
			}
			if ok {
				out[path] = v
			}
		}
	}
	return out
}

func same(a, b map[string]any, path string) bool {
	v, ok := a[path]
	w, both := b[path]
	return ok == both && reflect.DeepEqual(v, w)
}
