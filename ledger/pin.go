package ledger

import (
	"fmt"
	"strings"

	q "fishplate/ledger/quantity"
)

// plugOf is the entry that a reference with a pin names. A plug needs a pin,
// and nothing else has one.
func plugOf(text string) (string, error) {
	to, pin, colon := strings.Cut(text, ":")
	switch isPlug := strings.HasPrefix(to, "plug."); {
	case isPlug && strings.TrimSpace(pin) == "":
		return "", fmt.Errorf("takes a pin of the plug, as in %q; got %q", to+":4", text)
	case !isPlug && colon:
		return "", fmt.Errorf("only a plug has pins; got %q", text)
	}
	return to, nil
}

// Pin is the plug and the pin that a reference such as "plug.x:4" names.
func (r Ref) Pin() (plug Ref, pin string) {
	if !r.Known() {
		return r, ""
	}
	to, pin, _ := strings.Cut(r.String(), ":")
	return Ref{q.Written(to, r.Source())}, pin
}

// PinName is a pin of the plug as references name it: "plug.x:4".
func (p *Plug) PinName(pin string) string { return p.Path() + ":" + pin }

// Pin is a row of the plug's table. A row that is not there is missing: each
// of its values waits for it.
func (p *Plug) Pin(name string) Pin {
	if row, ok := p.Pins[name]; ok {
		return row
	}
	row := q.MissingWord(&q.Source{Entry: p.Path(), Key: "pins." + name, Place: p.Place()})
	if len(p.needs) > 0 {
		row = waitingWord(p.needs)
	}
	return Pin{To: Ref{row}, Circuit: Ref{row}, Gauge: row, Function: row, Color: row, ColorWas: row, Mark: row, Now: row, OtherEnd: row}
}

// Place is where the pin's row stands; false where it says nothing.
func (p Pin) Place() (q.Place, bool) {
	for _, w := range []q.Word{p.Now, p.To.Word, p.Circuit.Word, p.Gauge, p.Function, p.Color, p.ColorWas, p.Mark, p.OtherEnd} {
		if w.Known() && w.Source() != nil {
			return w.Source().Place, true
		}
	}
	return q.Place{}, false
}

// Splice is the splice that a reference names.
func (b *Build) Splice(r Ref) *Splice { return get[Splice](b, r, "splice") }
