package quantity

import (
	"math"
	"slices"
)

// Place is where something stands in a ledger's files. Line and Column count
// from 1; columns count characters. The zero Place is nowhere.
type Place struct {
	File         string
	Line, Column int
}

// Source says where a leaf comes from: a key of an entry at a place, or, for
// a constant, the publication cited.
type Source struct {
	Entry string // "part.engine"; "" for a constant
	Key   string // "mass", "at.behind"
	Place Place
	Cite  string // of a constant or an assumption
	Lever *Lever // a shop can change it to make a check pass; nil where it cannot

	stand map[*node]*node // of a value that is missing: what was assumed in its place
}

// Lever says how far a shop would change a value: to no less and no more than
// these shares of it. A position, or an angle, may go below zero, and its way
// counts by itself and not as a share.
type Lever struct {
	Least, Most float64
	Position    bool
}

// Citation is a publication that a value or a rule rests on.
type Citation struct {
	Key        string // its name in a table of reference data
	Text       string // document and section, table or page; or "common practice, no source"
	Memory     bool   // not confirmed by a look-up
	SecondHand bool   // read where another quotes it, and not in a copy of its own
}

// String is the citation as people read it, with its mark where it is from
// memory or second-hand.
func (c Citation) String() string {
	switch {
	case c.Memory:
		return c.Text + " (from memory)"
	case c.SecondHand:
		return c.Text + " (second-hand)"
	}
	return c.Text
}

// Standing says how far the citation can be relied on, in words: looked up,
// second-hand, from memory, or common practice.
func (c Citation) Standing() string {
	switch {
	case c.Text == Practice.Text:
		return "common practice"
	case c.Memory:
		return "from memory"
	case c.SecondHand:
		return "second-hand"
	}
	return "looked up"
}

// Practice is the citation of what the trade does without a source.
var Practice = Citation{Key: "practice", Text: "common practice, no source"}

// Path is the name of the value, such as "part.engine.mass".
func (s *Source) Path() string {
	if s.Entry == "" {
		return s.Key
	}
	return s.Entry + "." + s.Key
}

// Need is something that a missing value waits for: a key, or what else would
// supply it, with the place of the entry that should hold it.
type Need struct {
	Key   string
	Place Place
}

// need is the source's key, to be supplied.
func (s *Source) need() Need { return Need{Key: s.Path(), Place: s.Place} }

type op uint8

const (
	opLeaf op = iota
	opAdd
	opSub
	opMul
	opDiv
	opNeg
	opSum
	opSqrt
	opPow
	opExp
	opLog
	opSin
	opCos
	opTan
	opAtan
	opAsin
	opAbs
	opMin
	opMax
	opHypot
	opTable
	opChoose
	opBelow
	opSame // a value taken over as it is, under another dimension or name
)

type node struct {
	op      op
	grade   Grade // of a leaf
	percent bool  // a pure number that is shown in %
	air     bool  // a flow of air, which has a unit of its own
	asked   bool  // of a leaf: a number that the ledger lacks
	first   bool  // of a choice: the first that is known
	dim     Dim
	val     float64
	fwd     interval
	args    []*node
	pair    [2]*node // where args stand, if they are no more
	pow     float64
	table   *Table
	needs   []Need
	named   *naming // nil of what has no name
	// leaves only
	src     *Source
	reading *Reading
}

// naming is what a person would write an intermediate result down as.
type naming struct{ name, formula string }

// called is its name and formula; both "" where it has none.
func (n *node) called() naming {
	if n.named == nil {
		return naming{}
	}
	return *n.named
}

// Quantity is a traced value. It is small and is passed by value. The zero
// Quantity is missing and waits for nothing in particular.
type Quantity struct{ n *node }

var nothing = &node{dim: Any, src: &Source{Key: "a value"}, needs: []Need{{Key: "a value"}}}

func (q Quantity) node() *node {
	if q.n == nil {
		return nothing
	}
	return q.n
}

// Leaf is a value that stands in a ledger.
func Leaf(r Reading, src *Source) Quantity {
	l := &struct {
		node
		reading Reading
	}{reading: r}
	l.node = node{dim: r.Unit.Dim, val: r.Value, fwd: interval{r.Low, r.High}, grade: r.Grade, src: src, reading: &l.reading, percent: r.Unit.Symbol == "%"}
	return Quantity{&l.node}
}

// Missing is a value of the given dimension that the ledger lacks.
func Missing(dim Dim, src *Source) Quantity {
	m := &struct {
		node
		need [1]Need
	}{need: [1]Need{src.need()}}
	m.node = node{dim: dim, src: src, needs: m.need[:], asked: true}
	return Quantity{&m.node}
}

// MissingThree are three missing values that wait for one key and have keys of
// their own: the coordinates of a place that is not written.
func MissingThree(dim Dim, src *Source, keys [3]string) (out [3]Quantity) {
	m := &struct {
		nodes [3]node
		srcs  [3]Source
		need  [1]Need
	}{need: [1]Need{src.need()}}
	for i, key := range keys {
		m.srcs[i] = *src
		m.srcs[i].Key = key
		m.nodes[i] = node{dim: dim, src: &m.srcs[i], needs: m.need[:], asked: true}
		out[i] = Quantity{&m.nodes[i]}
	}
	return out
}

// Waits is a missing value that waits for what key names, which need not be a
// key of the ledger ("a row for TXL in the table of insulations").
func Waits(dim Dim, key string, place Place) Quantity {
	return Quantity{&node{dim: dim, src: &Source{Key: key, Place: place}, needs: []Need{{Key: key, Place: place}}}}
}

// WaitsFor is a missing value that waits for the given needs.
func WaitsFor(dim Dim, needs []Need) Quantity {
	needs = waiting(needs)
	return Quantity{&node{dim: dim, src: &Source{Key: needs[0].Key, Place: needs[0].Place}, needs: needs}}
}

// WaitsToo is a missing value of another dimension that waits for what this one
// waits for.
func (q Quantity) WaitsToo(dim Dim) Quantity {
	return Quantity{&node{dim: dim, src: q.node().src, needs: q.node().needs}}
}

// Cited is a constant as a publication prints it, exact unless it has a ±.
// It panics on text that does not parse: constants are part of the program.
func Cited(name, text, cite string) Quantity {
	r, err := Parse(text, Any, Options{})
	if err != nil {
		panic(name + ": " + err.Error())
	}
	if r.Grade == Stated {
		r.Low, r.High = r.Value, r.Value
	}
	r.Grade = Stated
	return Leaf(r, &Source{Key: name, Cite: cite})
}

// AssumedValue is a default that the tool supplies. It must be an interval, so that
// what rests on it can be left open by it.
func AssumedValue(name, text, why string) Quantity {
	r, err := Parse(text, Any, Options{})
	if err != nil {
		panic(name + ": " + err.Error())
	}
	if r.Low == r.High {
		panic(name + ": a default must be an interval")
	}
	r.Grade = Assumed
	return Leaf(r, &Source{Key: name, Cite: why})
}

// Number is an exact pure number that needs no source, such as a count.
func Number(v float64) Quantity {
	if i := int(v); i >= 0 && i < len(counts) && float64(i) == v {
		return counts[i]
	}
	return exactly(v)
}

// counts are the numbers that most formulas have.
var counts = func() (out [10]Quantity) {
	for i := range out {
		out[i] = exactly(float64(i))
	}
	return out
}()

func exactly(v float64) Quantity {
	u := unitBySymbol[""]
	return Leaf(Reading{Value: v, Low: v, High: v, Grade: Stated, Unit: u, Spelling: trim(v)}, &Source{})
}

// SI is an exact value in the coherent SI unit of dim, for formulas' tests and
// for values looked up in tables.
func SI(v float64, dim Dim) Quantity {
	return Leaf(Reading{Value: v, Low: v, High: v, Grade: Stated, Unit: &Unit{Symbol: siSymbol(dim), Dim: dim, Factor: 1}, Spelling: trim(v)}, &Source{})
}

// Known tells that the value is there.
func (q Quantity) Known() bool { return len(q.node().needs) == 0 }

// Given tells whether the value is in the ledger, as a Truth that is always
// known: for keys whose absence means something.
func (q Quantity) Given() Truth { return Is(q.Known()) }

// Needs lists what a missing value waits for, each once, sorted by key.
func (q Quantity) Needs() []Need { return q.node().needs }

// Dim is the dimension.
func (q Quantity) Dim() Dim { return q.node().dim }

// Value is the nominal value in SI; NaN where it is missing.
func (q Quantity) Value() float64 {
	if !q.Known() {
		return math.NaN()
	}
	return q.n.val
}

// Forward is the interval that forward interval arithmetic gives, in SI. It
// encloses Bounds.
func (q Quantity) Forward() (low, high float64) {
	n := q.node()
	if len(n.needs) > 0 {
		return math.NaN(), math.NaN()
	}
	return n.fwd.lo, n.fwd.hi
}

// Source is where a leaf comes from; nil for a computed value.
func (q Quantity) Source() *Source { return q.node().src }

// Spelling is how a leaf was written, made canonical; "" for a computed value.
func (q Quantity) Spelling() string {
	if r := q.node().reading; r != nil {
		return r.Spelling
	}
	return ""
}

// Reading is a leaf's reading, for a caller that writes another in its place.
func (q Quantity) Reading() (Reading, bool) {
	if r := q.node().reading; r != nil {
		return *r, true
	}
	return Reading{}, false
}

// As names an intermediate result and says its formula in symbols, for the
// worked solution.
func (q Quantity) As(name, formula string) Quantity {
	n := &struct {
		node
		named naming
	}{node: q.again(), named: naming{name, formula}}
	n.node.named = &n.named
	return Quantity{&n.node}
}

// InPercent marks a pure number as a share, which is shown in %. Its sums and
// differences, and what is named of it, are shown so too.
func (q Quantity) InPercent() Quantity {
	pure("a share", q)
	n := q.again()
	n.percent = true
	return Quantity{&n}
}

// OfAir marks a flow as one of air, which is shown in a unit of its own. What is
// named of it is shown so too.
func (q Quantity) OfAir() Quantity {
	n := q.again()
	n.air = true
	return Quantity{&n}
}

// again is the value once more, for another name or look; a leaf stays one and
// the same.
func (q Quantity) again() node {
	n := *q.node()
	if n.op == opLeaf {
		return node{op: opSame, dim: n.dim, val: n.val, fwd: n.fwd, args: []*node{q.node()}, needs: n.needs, percent: n.percent, air: n.air}
	}
	return n
}

// Name is what As called the value, or the path of a leaf.
func (q Quantity) Name() string {
	n := q.node()
	if name := n.called().name; name != "" || n.src == nil {
		return name
	}
	return n.src.Path()
}

// FirstOf is the first that is known. Where none is, it waits for any of them.
func FirstOf(qs ...Quantity) Quantity {
	dim := Any
	for _, q := range qs {
		dim = agree("a choice", dim, q.Dim())
	}
	if i := slices.IndexFunc(qs, Quantity.Known); i >= 0 {
		return qs[i]
	}
	switch len(qs) {
	case 0:
		return Quantity{}
	case 1:
		return qs[0]
	}
	args := make([]*node, len(qs))
	choices := make([][]Need, len(qs))
	for i, q := range qs {
		args[i], choices[i] = q.node(), q.Needs()
	}
	return Quantity{&node{op: opChoose, first: true, dim: dim, args: args, needs: anyOf(choices)}}
}

// Choose is a where the truth holds and b where it does not. Where the truth
// is missing the result is, and waits for it.
func Choose(t Truth, a, b Quantity) Quantity {
	dim := agree("a choice", a.Dim(), b.Dim())
	switch {
	case t.Holds():
		return a
	case t.Fails():
		return b
	}
	return Quantity{&node{op: opChoose, dim: dim, args: []*node{a.node(), b.node()}, needs: t.Needs()}}
}

func agree(what string, a, b Dim) Dim {
	switch {
	case a.any:
		return b
	case b.any || a == b:
		return a
	}
	panic(DimensionError(what + " of " + a.String() + " and " + b.String()))
}
