package edit

// Rewritten is a file that a draft changes, before and after.
type Rewritten struct{ Name, Old, New string }

// Rewritten are the files that the draft changes, by name as the user would
// type it.
func (d *Draft) Rewritten() []Rewritten {
	var out []Rewritten
	for _, name := range d.names() {
		if f := d.files[name]; !f.there || len(f.edits()) > 0 {
			out = append(out, Rewritten{f.shown, f.mark + f.old, f.mark + f.text.String()})
		}
	}
	return out
}
