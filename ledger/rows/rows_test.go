package rows

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func texts(t *Table) (out [][]string) {
	for _, row := range append([][]Cell{t.Heads}, t.Rows...) {
		var cells []string
		for _, c := range row {
			cells = append(cells, c.Text)
		}
		out = append(out, cells)
	}
	return out
}

// What spreadsheet programs save: commas or semicolons, a mark, either line
// end, quotes, rows of nothing.
func TestRead(t *testing.T) {
	want := [][]string{{"entry", "key", "value"}, {"part.a", "mass", `12" or "so"`}, {"part.b", "note", "two\nlines; é"}, {"part.c", "mass", "1 lb"}}
	for _, text := range []string{
		"entry,key,value\npart.a,mass,\"12\"\" or \"\"so\"\"\"\npart.b,note,\"two\nlines; é\"\n,,\n\npart.c,mass, 1 lb \n",
		"\ufeffentry;key;value\r\npart.a;mass;\"12\"\" or \"\"so\"\"\"\r\npart.b;note;\"two\r\nlines; é\"\r\n;;\r\n\r\npart.c;mass;1 lb",
		"\"entry\";\"key\";\"value\"\npart.a;mass;\"12\"\" or \"\"so\"\"\"\npart.b;note;\"two\nlines; é\"\npart.c;mass;1 lb;;\n",
	} {
		table, faults := Read([]byte(text))
		require.Empty(t, faults)
		got := texts(table)
		got[3] = got[3][:3]
		assert.Equal(t, want, got)
	}
	table, _ := Read([]byte("entry,key,value\npart.b,note,\"two\nlines\"\n\npart.é,mass,1 lb\n"))
	last := table.Rows[1][2]
	assert.Equal(t, Cell{"1 lb", 5, 13, "C4"}, last, "a row is counted as the spreadsheet does, a line as an editor does")
}

func TestReadFaults(t *testing.T) {
	for text, want := range map[string]string{
		"":                          "x.csv: nothing in it",
		"entry\tkey\tvalue\n":       "x.csv:1:1: its cells are parted by tabs",
		"entry,key\rpart.a,mass\r":  "x.csv:1:1: its lines end with a carriage return alone",
		"entry,key\npart.\xe9,x\n":  "x.csv:2:1: is no UTF-8",
		"\xff\xfee\x00n\x00":        "x.csv:1:1: is no UTF-8",
		"entry,key\np,q,r\n":        "x.csv:2:5: cell C2: stands under no head: the first row has 2",
		"entry,key\np,5 ft 2\"\n":   "x.csv:2:9: a quote inside a cell that is not quoted",
		"entry,key\np,\"5\n":        "its quotes do not close",
		"entry,key\np,\"a\x1bb\"\n": "x.csv:2:3: cell B2: has a control character (U+001B)",
		"entry\n" + strings.Repeat("p\n", MaxRows+1):      fmt.Sprintf("x.csv:%d:1: cell A%d: more than 2000 rows", MaxRows+2, MaxRows+2),
		"entry\n" + strings.Repeat("p", MaxBytes):         "x.csv: larger than 2 MB",
		strings.Repeat("h,", maxColumns) + "h\n":          "x.csv:1:401: cell GS1: more than 200 columns",
		"entry,key\n\"a\x07\",x\n\"b\x07\",\"y\x07\",z\n": "x.csv:3:11: cell C3: stands under no head",
	} {
		table, faults := Read([]byte(text))
		assert.Nil(t, table)
		var lines []string
		for _, f := range faults {
			lines = append(lines, f.In("x.csv"))
		}
		assert.Contains(t, strings.Join(lines, "\n"), want, "%.40q", text)
	}
}

// Whatever encoding/csv writes is read as it was, in either dress.
func TestReadsWhatTheLibraryWrites(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.StringMatching(`[a-zé"';,= \n-]{0,6}[a-z"]`)
		rows := rapid.SliceOfN(rapid.SliceOfN(cell, 3, 3), 1, 6).Draw(t, "rows")
		rows = append([][]string{{"entry", "key", "value"}}, rows...)
		var b bytes.Buffer
		w := csv.NewWriter(&b)
		w.UseCRLF = rapid.Bool().Draw(t, "CRLF")
		if rapid.Bool().Draw(t, "semicolons") {
			w.Comma = ';'
		}
		if rapid.Bool().Draw(t, "mark") {
			b.WriteString("\ufeff")
		}
		require.NoError(t, w.WriteAll(rows))
		table, faults := Read(b.Bytes())
		require.Empty(t, faults)
		for _, row := range rows {
			for i := range row {
				row[i] = strings.TrimSpace(row[i])
			}
		}
		require.Equal(t, rows, texts(table))
	})
}

// A spreadsheet takes what begins with =, +, - or @ for a formula (common
// practice, no source); a quantity it may have.
func TestInert(t *testing.T) {
	for text, want := range map[string]string{
		"=1+1": "'=1+1", "@x": "'@x", "+x": "'+x", "-up": "'-up", " =x": "' =x", "＝x": "'＝x", "'=x": "''=x", "-1|x": "'-1|x",
		"-1 1/2 in": "-1 1/2 in", "+5 in": "+5 in", "-1": "-1", "a-b": "a-b", "'tis": "'tis", "'-1 in": "'-1 in", "": "",
	} {
		assert.Equal(t, want, Inert(text))
	}
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[='+@ 1-]{0,4}[a-z1-9]{0,2}`).Draw(t, "text")
		require.Equal(t, text, Text(Inert(text)))
		require.NotRegexp(t, `^[=@]`, Inert(text))
	})
}
