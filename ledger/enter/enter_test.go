package enter

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/edit"
	"fishplate/ledger/revision"
	"fishplate/ledger/rows"
	"fishplate/ledger/schema"
)

func example(t *testing.T, name string) *revision.Build {
	t.Helper()
	place, err := revision.Open("../../examples/tamarack/builds/" + name)
	require.NoError(t, err)
	t.Cleanup(func() { place.Close() })
	builds, err := place.Builds()
	require.NoError(t, err)
	return builds[0]
}

// cells are the values of an entry as a spreadsheet has them: by key, a list in
// one cell.
func cells(e *ledger.Entry) map[string]string {
	out := map[string]string{}
	for _, v := range e.Values() {
		top, rest, below := strings.Cut(v.Key, ".")
		if below && !strings.Contains(rest, ".") && e.Schema().Field(top).Many == schema.List {
			if out[top] != "" {
				out[top] += "; "
			}
			out[top] += v.Text
			continue
		}
		out[v.Key] = v.Text
		if v.Type == "nothing" {
			out[v.Key] = ";"
		}
	}
	return out
}

// Every entry of the examples, written as a row of a spreadsheet under another
// id, is entered and read back as it was, key for key.
func TestEveryEntryAsARow(t *testing.T) {
	entered := map[string]int{}
	for _, name := range []string{"marten", "heron"} {
		src := example(t, name)
		d, err := edit.Begin(src)
		require.NoError(t, err)
		byKind := map[string][]*ledger.Entry{}
		for _, e := range d.Before().Entries() {
			if !e.Shop && e.ID != "" && e.Kind != "waiver" { // which has a key called entry
				byKind[e.Kind] = append(byKind[e.Kind], e)
			}
		}
		for kind, list := range byKind {
			d, err := edit.Begin(src)
			require.NoError(t, err)
			table, faults := rows.Read([]byte(spreadsheet(t, list)))
			require.Empty(t, faults, kind)
			done, faults := Into(d, table, "new/rows.toml")
			if kind == "plug" || kind == "splice" { // two may not have one wire
				continue
			}
			require.Empty(t, faults, kind)
			assert.Equal(t, Done{Entries: len(list)}, done)
			for _, e := range list {
				now, ok := d.After().Entry(e.Path() + "-again")
				require.True(t, ok, e.Path())
				require.Equal(t, cells(e), cells(now), e.Path())
				entered[kind]++
			}
		}
	}
	for _, kind := range []string{"part", "hose", "circuit", "gap", "shaft", "tank", "weighing", "test", "work", "radiator"} {
		assert.Positive(t, entered[kind], kind)
	}
}

// spreadsheet is entries under other ids as a csv with a column a key.
func spreadsheet(t *testing.T, list []*ledger.Entry) string {
	t.Helper()
	heads, at := []string{"entry"}, map[string]int{}
	var all []map[string]string
	for _, e := range list {
		row := cells(e)
		all = append(all, row)
		for key := range row {
			if at[key] == 0 {
				at[key], heads = len(heads), append(heads, key)
			}
		}
	}
	table := [][]string{heads}
	for i, row := range all {
		line := make([]string, len(heads))
		line[0] = list[i].Path() + "-again"
		for key, text := range row {
			line[at[key]] = rows.Inert(text)
		}
		table = append(table, line)
	}
	var b bytes.Buffer
	require.NoError(t, csv.NewWriter(&b).WriteAll(table))
	return b.String()
}

// A draft that is refused is not to be written: what is wrong with one row is
// told beside what the loader says of others.
func TestAllThatIsWrong(t *testing.T) {
	d, err := edit.Begin(example(t, "marten"))
	require.NoError(t, err)
	table, faults := rows.Read([]byte("entry,key,value\npart.engine,mas,1 lb\npart.engine,mass,heavy\npart.engine,donor,donor.none\n"))
	require.Empty(t, faults)
	_, faults = Into(d, table, "")
	var told []string
	for _, f := range faults {
		told = append(told, f.In("x"))
	}
	require.Len(t, told, 3, strings.Join(told, "\n"))
	for i, want := range []string{"x:2:17: cell C2: unknown key \"mas\"", "x:3:18: cell C3: mass: ", "x:4:19: cell C4: "} {
		assert.True(t, strings.HasPrefix(told[i], want), fmt.Sprint(told[i]))
	}
}

// A reading that is taken again and still says that it is from before the move is told
// of: the check would go on asking for it.
func TestReadAnewAndStillBefore(t *testing.T) {
	src := example(t, "marten")
	for sheet, want := range map[string][]string{
		"gap.engine-to-lid,measured,2 3/8 in\n":                                      {"gap.engine-to-lid"},
		"gap.engine-to-lid,measured,2 3/8 in\ngap.engine-to-lid,before-move,false\n": nil,
		"gap.engine-to-lid,motion,3/8 in\n":                                          nil, // no reading of the tape
		"gap.fan-to-shroud,measured,7/8 in\n":                                        nil, // never said so
		"shaft.rear,slopes.from,3.1 deg\n":                                           {"shaft.rear"},
	} {
		d, err := edit.Begin(src)
		require.NoError(t, err)
		table, faults := rows.Read([]byte("entry,key,value\n" + sheet))
		require.Empty(t, faults)
		done, faults := Into(d, table, "")
		require.Empty(t, faults, sheet)
		assert.Equal(t, want, done.Before, sheet)
	}
}
