package drawing_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	q "fishplate/ledger/quantity"
	"fishplate/lint/report/drawing"
	"fishplate/rules"
)

// Whatever a ledger says, a drawing has no element and no attribute but those of
// its template, in either form, and its words are clean.
func TestHostileWordsStayWords(t *testing.T) {
	for i := range 12 {
		r := checked(t, generated(rand.New(rand.NewPCG(77, uint64(i))), 40))
		for _, d := range drawing.All(r, rules.Drawn(r.Build)) {
			var svg bytes.Buffer
			require.NoError(t, d.SVG(&svg))
			inert(t, svg.String())
			page, err := d.HTML()
			require.NoError(t, err)
			inert(t, string(page))
		}
	}
	var svg bytes.Buffer
	u, _ := q.UnitNamed("lb")
	require.NoError(t, drawing.History("x", names[3], u, []drawing.Moment{{When: names[4], Value: 1, Low: 0, High: 2, Event: names[5]}}, 1).SVG(&svg))
	inert(t, svg.String())
	assert.Contains(t, svg.String(), "&lt;script&gt;")
}

var elements = strings.Fields("svg title desc style rect circle polyline polygon text figure figcaption p ul li b span table caption thead tbody tr th td div")

var attributes = strings.Fields("class role aria-labelledby viewBox width height xmlns id x y cx cy r points font-size text-anchor scope")

// inert reads a drawing as XML, which it is in both forms.
func inert(t *testing.T, text string) {
	t.Helper()
	assert.Negative(t, strings.IndexFunc(text, func(r rune) bool {
		return r == '\u202e' || r == '\u200b' || r == '\u2066' || r < ' ' && r != '\n'
	}))
	for d := xml.NewDecoder(strings.NewReader(text)); ; {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		require.NoError(t, err)
		if e, ok := token.(xml.StartElement); ok {
			require.Contains(t, elements, e.Name.Local)
			for _, a := range e.Attr {
				require.Contains(t, attributes, a.Name.Local)
			}
		}
	}
}
