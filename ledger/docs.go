package ledger

import q "fishplate/ledger/quantity"

// HookupDoc says how a kind of hookup is compared, for the reference.
type HookupDoc struct {
	Kind     string
	Measure  string // the key that says how much is needed; "" where it is there or not
	Quantity string // what is measured, such as pressure; "" where nothing is
}

// HookupDocs are the kinds of hookup that the format knows, sorted.
func HookupDocs() (docs []HookupDoc) {
	for _, kind := range hookupNames(hookups) {
		rule := hookups[kind]
		d := HookupDoc{Kind: kind, Measure: measureOf(rule.Compare)}
		if rule.Dim != q.Ratio {
			d.Quantity = rule.Dim.Takes()
		}
		docs = append(docs, d)
	}
	return docs
}
