package book

import (
	"fishplate/ledger"
	"fishplate/ledger/schema"
)

// Edition is for whom a book is.
type Edition string

// The editions.
const (
	Shop      Edition = "shop"      // all that there is
	Owner     Edition = "owner"     // no money but what was quoted, no private documents
	Inspector Edition = "inspector" // no money, no private documents, nothing about upkeep
	Public    Edition = "public"    // what is tagged public, and nothing else
)

// Editions are all editions, with what each is for.
var Editions = []struct {
	Name  Edition
	About string
}{
	{Shop, "for the shop: everything, money and hours too"},
	{Owner, "for the owner, with the keys: no money but what was quoted, no private documents"},
	{Inspector, "for an inspector: no money, no private documents, nothing about upkeep"},
	{Public, "for everyone who asks: what is tagged public, or chosen by public = true, and nothing else"},
}

// EditionNamed finds an edition by its name.
func EditionNamed(name string) (Edition, bool) {
	for _, e := range Editions {
		if string(e.Name) == name {
			return e.Name, true
		}
	}
	return "", false
}

// EditionNames are the names of the editions.
func EditionNames() []string {
	var out []string
	for _, e := range Editions {
		out = append(out, string(e.Name))
	}
	return out
}

// shows tells that the edition shows a value of an entry.
func (ed Edition) shows(e *ledger.Entry, v ledger.Value) bool {
	switch ed {
	case Shop:
		return true
	case Public:
		return v.Public == schema.PublicAlways || v.Public == schema.PublicChosen && e.Public()
	}
	if v.Field == nil {
		return false
	}
	return !v.Field.Commercial || ed == Owner && v.Field.Customer
}

// has tells that the edition tells of an entry at all, beside what its values
// allow.
func (ed Edition) has(e *ledger.Entry, view any) bool {
	if ed == Shop {
		return true
	}
	if ed == Public && e.Schema().Private {
		return false
	}
	d, ok := view.(*ledger.Document)
	return !ok || d.Private.Fails() && (ed != Public || e.Public())
}

// paths tells that the edition says which entries, files and lines things are from.
func (ed Edition) paths() bool { return ed != Public }

// upkeep tells that the edition says how to live with the vehicle.
func (ed Edition) upkeep() bool { return ed != Inspector }

// title is what the edition is called on its page.
func (ed Edition) title() string {
	return map[Edition]string{Shop: "Shop’s edition", Owner: "Owner’s edition", Inspector: "Inspector’s edition", Public: "Public edition"}[ed]
}
