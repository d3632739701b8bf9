package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
)

// dresses are how spreadsheet programs save a csv: the mark and the separator
// go by the country, the line ends by the system (common practice, no source).
var dresses = map[string]struct {
	mark  string
	comma rune
	crlf  bool
}{
	"commas":             {"", ',', false},
	"semicolons and all": {"\ufeff", ';', true},
}

// A sheet of the example, filled by a program and saved as a spreadsheet does,
// changes exactly the values that were filled in: every other byte of every
// file is what it was, and the loader reads what was written.
func TestFilledSheet(t *testing.T) {
	examples, err := filepath.Abs("../../examples/tamarack")
	require.NoError(t, err)
	for name, dress := range dresses {
		t.Run(name, func(t *testing.T) {
			t.Chdir(t.TempDir())
			require.NoError(t, os.CopyFS("shop", os.DirFS(examples)))
			const dir = "shop/builds/marten"
			foreign(t, dir+"/gaps.toml")
			before := ledgerFiles(t, dir)
			var out, errs bytes.Buffer
			require.Equal(t, 0, run([]string{"fishplate", "sheet", "--all", "--as-of", "2026-11-20", "--report", "csv", dir}, real(&out, &errs)), errs.String())
			sheet, err := csv.NewReader(&out).ReadAll()
			require.NoError(t, err)
			filled := fill(sheet)
			require.Greater(t, len(filled), 45)
			var text bytes.Buffer
			text.WriteString(dress.mark)
			w := csv.NewWriter(&text)
			w.Comma, w.UseCRLF = dress.comma, dress.crlf
			require.NoError(t, w.WriteAll(sheet))
			require.NoError(t, os.WriteFile("sheet.csv", text.Bytes(), 0o644))

			require.Contains(t, ran("fishplate enter "+dir+" sheet.csv --try"), "nothing is written")
			require.Equal(t, before, ledgerFiles(t, dir))
			said := ran("fishplate enter " + dir + " sheet.csv")
			require.Contains(t, said, fmt.Sprintf("%d values entered", len(filled)))
			after := ledgerFiles(t, dir)
			require.Len(t, after, len(before))
			seen := map[string]bool{}
			for file := range before {
				onlyFilled(t, file, before[file], after[file], filled, seen)
			}
			assert.Len(t, seen, len(filled), "every value that was filled in stands in a file")
			readBack(t, dir, filled)
		})
	}
}

// foreign gives a file a byte order mark and the other line ends.
func foreign(t *testing.T, name string) {
	t.Helper()
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(name, []byte("\ufeff"+strings.ReplaceAll(string(text), "\n", "\r\n")), 0o644))
}

func ledgerFiles(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	names, err := filepath.Glob(dir + "/*.toml")
	require.NoError(t, err)
	for _, name := range names {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		out[name] = string(text)
	}
	return out
}

// fill writes into the column value of a sheet what a person might, and tells
// what: by entry and key, no value twice. What it knows nothing for stays empty.
func fill(sheet [][]string) map[string]string {
	filled := map[string]string{}
	for i, row := range sheet[1:] {
		entry, key, unit := row[0], row[1], row[4]
		f := ledger.KindOf(entry).At(key)
		switch {
		case f.Many != schema.One:
		case f.Type == schema.Date:
			row[2] = "2026-11-19"
		case f.Type == schema.Truth:
			row[2] = "FALSE" // as a spreadsheet spells it
		case f.TakesQuantity() && unit == "in":
			row[2] = fmt.Sprintf([]string{"%d/64 in", "%d 7/8 in", "%d.25 ± 0.03 in"}[i%3], i+1)
		case f.TakesQuantity() && f.Dim == q.Ratio:
			row[2] = fmt.Sprintf("0.6%02d", i)
		case f.TakesQuantity():
			row[2] = fmt.Sprintf("7.%02d %s", i, unit)
		case len(f.OneOf) > 0:
			row[2] = f.OneOf[0]
		}
		if row[2] != "" && row[2] != row[3] {
			filled[entry+" "+key] = row[2]
		}
	}
	return filled
}

var (
	header   = regexp.MustCompile(`^\x{feff}?\[([^\]]+)\]`)
	keyStart = regexp.MustCompile(`^([a-z0-9-]+)[a-z0-9.-]* *=`)
)

// onlyFilled walks the lines of a file before and after side by side: where
// they differ, one is the other with a filled value in the place of the old, or
// is a new line of a filled value.
func onlyFilled(t *testing.T, file, before, after string, filled map[string]string, seen map[string]bool) {
	t.Helper()
	old, now := strings.SplitAfter(before, "\n"), strings.SplitAfter(after, "\n")
	entry, i := "", 0
	for _, line := range now {
		if m := header.FindStringSubmatch(line); m != nil {
			entry = m[1]
		}
		if i < len(old) && old[i] == line {
			i++
			continue
		}
		m := keyStart.FindStringSubmatch(line)
		require.NotNil(t, m, "%s: %q", file, line)
		back := line
		for range 3 { // the values of a new table go in any order
			for what, value := range filled {
				name, key, _ := strings.Cut(what, " ")
				if path := entry + "." + m[1]; back != "" && (name+"."+key == path || strings.HasPrefix(name+"."+key, path+".")) {
					back = undone(t, before, name, key, value, back)
					seen[what] = true
				}
			}
		}
		if back == "" { // the line was added for it
			continue
		}
		require.Equal(t, old[i], back, "%s: %q", file, line)
		i++
	}
	assert.Equal(t, len(old), i, file)
}

// undone is a line with what stood in a value's place before, as another
// decoder reads it; "" where nothing did and the line says nothing else.
func undone(t *testing.T, before, entry, key, value, line string) string {
	t.Helper()
	spelled := spelledAs(value)
	if !strings.Contains(line, spelled) {
		return line
	}
	var root map[string]any
	_, err := toml.Decode(strings.TrimPrefix(before, "\ufeff"), &root)
	require.NoError(t, err)
	var was any = root
	parts := strings.Split(entry+"."+key, ".")
	for _, part := range parts {
		m, _ := was.(map[string]any)
		was = m[part]
	}
	last := parts[len(parts)-1]
	end := strings.TrimRight(line, "\r\n")
	switch was := was.(type) {
	case string:
		return strings.Replace(line, spelled, `"`+was+`"`, 1)
	case nil:
		if strings.HasPrefix(end, key) && strings.HasSuffix(end, spelled) || end == parts[len(parts)-2]+" = { "+last+" = "+spelled+" }" {
			return ""
		}
		return strings.Replace(line, ", "+last+" = "+spelled, "", 1)
	case bool:
		return strings.Replace(line, spelled, fmt.Sprint(was), 1)
	case interface{ Format(string) string }:
		return strings.Replace(line, spelled, was.Format("2006-01-02"), 1)
	}
	t.Fatalf("%s %s was %v", entry, key, was)
	return ""
}

// spelledAs is how TOML has a value that fill writes.
func spelledAs(value string) string {
	switch {
	case value == "FALSE":
		return "false"
	case regexp.MustCompile(`^\d{4}-\d\d-\d\d$`).MatchString(value):
		return value
	}
	return `"` + value + `"`
}

// readBack holds what the loader reads against what was filled in.
func readBack(t *testing.T, dir string, filled map[string]string) {
	t.Helper()
	b := loaded(t, dir)
	for what, value := range filled {
		entry, key, _ := strings.Cut(what, " ")
		v, ok := b.Value(entry, key)
		require.True(t, ok, what)
		assert.Equal(t, strings.Trim(spelledAs(value), `"`), v.Text, what)
	}
}

// Of many that enter at the same time each enters its own, at the first try:
// values of one entry, and new entries at the end of one file.
func TestManyEnterAtOnce(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("build.toml", []byte("# ours\n[part.a] # here\nname = \"A\"\n"), 0o644))
	values := []string{"mass,1 lb", "role,engine", "count,2", "note,x", "origin,bought", "supplier,Y"}
	var wg sync.WaitGroup
	told := make([]string, 2*len(values))
	for i := range told {
		text := fmt.Sprintf("entry,key,value\npart.a,%s\n", values[i/2])
		if i%2 == 1 {
			text = fmt.Sprintf("entry,name\npart.new-%d,New %d\n", i, i)
		}
		require.NoError(t, os.WriteFile(fmt.Sprintf("%d.csv", i), []byte(text), 0o644))
		wg.Go(func() { // a process each, see TestMain
			if out, err := exec.Command("fishplate", "enter", ".", fmt.Sprintf("%d.csv", i)).CombinedOutput(); err != nil {
				told[i] = fmt.Sprintf("%v: %s", err, out)
			}
		})
	}
	wg.Wait()
	for i := range told {
		assert.Empty(t, told[i])
		if i%2 == 1 {
			assert.Contains(t, contentOf(t, "build.toml"), fmt.Sprintf("[part.new-%d]\nname = \"New %d\"\n", i, i))
		}
	}
	head, _, _ := strings.Cut(contentOf(t, "build.toml"), "\n\n")
	assert.Equal(t, "# ours\n[part.a] # here\nname = \"A\"\nrole = \"engine\"\norigin = \"bought\"\nsupplier = \"Y\"\ncount = 2\nmass = \"1 lb\"\nnote = \"x\"", head)
	noneLeft(t)
}
