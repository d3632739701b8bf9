package book

// content is a line of the contents.
type content struct {
	Name, ID string
	Below    []content
}

// Any tells that there is something on the page.
func (l living) Any() bool {
	return len(l.Instructions) > 0 || l.Fluids.Rows()+l.Wears.Rows()+l.Fuses.Rows() > 0
}

// Any tells that there is something on the page.
func (a asked) Any() bool { return len(a.Faqs) > 0 || a.Visits.Rows() > 0 }

// Any tells that there is something on the page.
func (p papers) Any() bool {
	return p.Digest != "" || p.Documents.Rows()+p.Signatures.Rows() > 0 || len(p.Photos) > 0
}

// Contents are the pages that the book has.
func (p page) Contents() (out []content) {
	add := func(there bool, name, id string, below ...content) {
		if there {
			out = append(out, content{name, id, below})
		}
	}
	var chapters, packs []content
	for _, c := range p.Chapters {
		chapters = append(chapters, content{Name: c.Name, ID: c.ID})
	}
	for _, k := range p.Sums.Packs {
		packs = append(packs, content{Name: k.Title, ID: k.ID})
	}
	add(true, "The vehicle", "front")
	add(true, "What is custom and what is not", "custom")
	add(p.Living.Any(), "How to live with it", "living")
	add(len(p.Chapters) > 0, "System by system", "systems", chapters...)
	add(true, "The sums", "sums", packs...)
	add(p.Asked.Any(), "Questions and answers", "asked")
	add(p.Papers.Any(), "Papers", "papers")
	add(p.Costs.Any(), "Costs", "costs")
	add(p.History != nil, "History", "history")
	add(len(p.Index) > 0, "Entries", "entries")
	return out
}
