package harness

import (
	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/circuits"
)

func checkGauge(b *ledger.Build, s *lint.Sheet) {
	n := circuits.Of(b)
	for _, p := range loomOf(b).plugs {
		p.pins(s, "", onCircuit, "no wire that was put into it, and no row that names a circuit", func(c *cavity, u *lint.Subject) {
			r := n.At(c.row.Circuit)
			u.When(r.Fused(), "a signal, a ground or the starter's cable needs no fuse").
				AtMost(n.Fuse(r), n.FuseForOf(r, gauge(b, c)))
		})
	}
}

// onCircuit holds where a wire is, or has to be, on a circuit of the ledger: one
// that was put in, and any whose row names one.
func onCircuit(c *cavity) quantity.Truth {
	return c.carries().And(c.now.Is("new").Or(c.row.Circuit.Given()))
}

// gauge is the wire's, which is its circuit's where the row has none.
func gauge(b *ledger.Build, c *cavity) quantity.Word {
	return quantity.FirstWord(c.row.Gauge, b.Circuit(c.row.Circuit).Gauge)
}
