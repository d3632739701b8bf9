package report

import (
	"bytes"
	"encoding/json"
	"net/url"
	"os"
	"strings"
	"testing"

	"github.com/joshdk/go-junit"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
)

// hostileWords are what someone could put into an id's neighbors, a note, a
// reason or a file's name to act on what reads the outputs.
var hostileWords = []string{
	"a | b", "a\\| b", "`code`", "``` fence", "::error::gotcha", "x\n::error file=a.toml::gotcha", "\r\n::set-output name=x::y", "##[error]gotcha", "a ##vso[task.setvariable variable=x]y", "###deploy[x]", "%0A::error::x", "%25",
	"\x1b[31mred", "\x1b]8;;http://example.com\x07link", "\x07", "\u009b2J", "<script>alert(1)</script>", "</code><img src=x onerror=alert(1)>", "</details>", "&lt;b&gt;", "\u202ereversed", "\u200f", "\u2066x\u2069",
	"line one\nline two", "tab\there", "[text](http://example.com)", "![i](http://example.com/i.png)", "https://example.com/", "@everyone", "#1 and owner/repo#2", "*bold* _it_ ~~gone~~", "]]>", "\" onload=\"x", "\xff\xfe", "a\x00b", "| --- |\n| x |",
}

func reportOf(word string) *lint.Report {
	place := q.Place{File: "builds/" + word + "/a:b.toml", Line: 3, Column: 2}
	rule := &lint.Rule{Name: "toy/gap", Title: "a gap", Sources: []q.Citation{q.Practice}, Caution: "mind the fan"}
	value := q.Cited("gap", "3 in", "none")
	return &lint.Report{Folder: word, Title: word, AsOf: "2026-03-01", Build: ledger.Phantoms(), Results: []*lint.Result{
		{Rule: rule, Entry: "gap.a" + word, Aspect: word, Place: place, Verdict: lint.Fail, Sense: lint.Holds, Reason: word, Counts: true},
		{Rule: rule, Entry: "gap.b", Place: place, Verdict: lint.Fail, Sense: lint.Holds, Reason: word, Should: true},
		{Rule: rule, Entry: "gap.c", Place: place, Verdict: lint.Missing, Sense: lint.Holds, Needs: []q.Need{{Key: word}}},
		{Rule: rule, Entry: "gap.d", Place: place, Verdict: lint.Waived, Underlying: lint.Fail, Sense: lint.AtMost, Value: value, Limit: value.Times(0.5), Margin: value.Times(-0.5), Reason: word},
		{Rule: rule, Entry: "gap.e", Place: place, Verdict: lint.Pass, Sense: lint.AtMost, Value: value, Limit: value.Times(2), Margin: value},
	}}
}

func output(t *testing.T, kind string, all bool, reports ...*lint.Report) []byte {
	t.Helper()
	k, ok := KindNamed(Kinds, kind)
	require.True(t, ok)
	var out bytes.Buffer
	w := k.New(&out, Options{All: all})
	var totals Totals
	for _, r := range reports {
		if totals.Add(r); len(r.Faults) == 0 {
			require.NoError(t, w.Build(r))
		}
	}
	require.NoError(t, w.Close(&totals))
	return out.Bytes()
}

// TestSARIF validates against the schema of OASIS SARIF 2.1.0, and by hand
// against what that schema does not say: messages are not empty, URIs have no
// blanks, and are relative.
func TestSARIF(t *testing.T) {
	text, err := os.ReadFile("testdata/sarif-2.1.0.json")
	require.NoError(t, err)
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	require.NoError(t, err)
	compiler := jsonschema.NewCompiler()
	compiler.AssertFormat()
	require.NoError(t, compiler.AddResource("sarif.json", doc))
	schema, err := compiler.Compile("sarif.json")
	require.NoError(t, err)
	var reports []*lint.Report
	for _, w := range hostileWords {
		reports = append(reports, reportOf(w))
	}
	for _, rs := range [][]*lint.Report{nil, reports} {
		got := output(t, "sarif", true, rs...)
		value, err := jsonschema.UnmarshalJSON(bytes.NewReader(got))
		require.NoError(t, err)
		require.NoError(t, schema.Validate(value))
	}
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(output(t, "sarif", true, unread("bad"))))
	require.NoError(t, err)
	require.NoError(t, schema.Validate(value), "of builds that cannot be read")
	var log struct {
		Runs []struct {
			Results []struct {
				Kind, Level  string
				Message      struct{ Text string }
				Suppressions []struct{ Justification string }
				Fingerprints map[string]string `json:"partialFingerprints"`
				Locations    []struct {
					Physical struct {
						Artifact struct{ URI string } `json:"artifactLocation"`
					} `json:"physicalLocation"`
				}
			}
		}
	}
	require.NoError(t, json.Unmarshal(output(t, "sarif", false, reports...), &log))
	require.Len(t, log.Runs[0].Results, 4*len(hostileWords))
	seen := map[string]bool{}
	for i, r := range log.Runs[0].Results {
		want := [][2]string{{"fail", "error"}, {"fail", "warning"}, {"open", "none"}, {"fail", "error"}}[i%4]
		assert.Equal(t, want, [2]string{r.Kind, r.Level})
		assert.NotEmpty(t, r.Message.Text)
		assert.True(t, safe(r.Message.Text), "%q", r.Message.Text)
		assert.Equal(t, i%4 == 3, len(r.Suppressions) == 1)
		assert.False(t, seen[r.Fingerprints["check/v1"]])
		seen[r.Fingerprints["check/v1"]] = true
		at := r.Locations[0].Physical.Artifact.URI
		assert.NotContains(t, at, " ")
		parsed, err := url.Parse(at)
		require.NoError(t, err)
		assert.Empty(t, parsed.Scheme)
	}
}

// TestFingerprintHasNoRevision: the same check in a folder and in a revision of
// it is the same finding.
func TestFingerprintHasNoRevision(t *testing.T) {
	c := reportOf("x").Results[0]
	folder := &lint.Report{Folder: "builds/van"}
	assert.Equal(t, Fingerprint(folder, c), Fingerprint(&lint.Report{Folder: "main:builds/van", Revision: "main:"}, c))
	assert.NotEqual(t, Fingerprint(folder, c), Fingerprint(&lint.Report{Folder: "builds/truck"}, c))
	assert.NotEqual(t, Fingerprint(folder, c), Fingerprint(&lint.Report{Folder: "main:builds/van"}, c), "a folder of that name, with its colon")
}

// TestNoLinkInSARIF: a plain message may have links in it, [words](target) (SARIF
// 2.1.0, 3.11.6): a ledger gives none, nor does a shop's rule.
func TestNoLinkInSARIF(t *testing.T) {
	const word = "read [the manual](http://example.com/) first"
	r := reportOf(word)
	for _, x := range r.Results {
		rule := *x.Rule
		rule.Title, rule.Note, rule.Caution = word, word, word
		x.Rule = &rule
	}
	for _, got := range []string{string(output(t, "sarif", true, r)), string(output(t, "sarif", true, unread(word)))} {
		assert.Contains(t, got, "the manual")
		assert.NotRegexp(t, `"(text|justification)":"[^"]*\]\(`, got)
	}
}

// TestFolderWithColon: where a folder's own name has a colon, the log points
// to the file all the same.
func TestFolderWithColon(t *testing.T) {
	for _, c := range []struct{ folder, revision, want string }{
		{"12:30/van", "", "12%3A30/van/build.toml"}, {"main:12:30/van", "main:", "12%3A30/van/build.toml"}, {"HEAD@{12:30}:van", "HEAD@{12:30}:", "van/build.toml"},
	} {
		r := reportOf("x")
		r.Folder, r.Revision = c.folder, c.revision
		for _, x := range r.Results {
			x.Place.File = c.folder + "/build.toml"
		}
		var log struct {
			Runs []struct{ Results []sarifResult }
		}
		require.NoError(t, json.Unmarshal(output(t, "sarif", false, r), &log))
		require.NotEmpty(t, log.Runs[0].Results)
		for _, f := range log.Runs[0].Results {
			assert.Equal(t, c.want, f.Locations[0].Physical.Artifact.URI)
		}
		left := sarifNotes([]Unread{{c.folder, c.revision, []ledger.Fault{{Place: q.Place{File: c.folder + "/build.toml", Line: 2, Column: 1}, Message: "no"}}}})
		assert.Contains(t, left, `"uri":"`+c.want+`"`)
	}
}

func unread(word string) *lint.Report {
	return &lint.Report{Folder: word, Title: word, Faults: []ledger.Fault{
		{Place: q.Place{File: word + "/bad.toml", Line: 1, Column: 2}, Message: word + " is no value"},
		{Place: q.Place{File: word + "/worse.toml"}, Message: "internal error"},
	}}
}

// TestUnreadIsTold: a build that cannot be read is in every report, beside
// those that can, and what it is called acts on no reader.
func TestUnreadIsTold(t *testing.T) {
	for _, word := range append([]string{"bad"}, hostileWords...) {
		var doc struct {
			Builds []struct{ Folder string }
			Unread []struct {
				Folder string
				Faults []struct {
					File, Message string
					Line, Column  int
				}
			}
		}
		require.NoError(t, json.Unmarshal(output(t, "json", false, reportOf("good"), unread(word)), &doc))
		require.Len(t, doc.Builds, 1)
		require.Len(t, doc.Unread, 1)
		assert.Len(t, doc.Unread[0].Faults, 2)
		assert.Equal(t, 2, doc.Unread[0].Faults[0].Column)

		suites, err := junit.Ingest(output(t, "junit", false, reportOf("good"), unread(word)))
		require.NoError(t, err)
		require.Len(t, suites, 2)
		assert.Equal(t, 2, suites[1].Totals.Error)
		assert.Equal(t, 2, suites[1].Totals.Tests)
		assert.True(t, safe(suites[1].Tests[0].Name), "%q", suites[1].Tests[0].Name)

		var log struct {
			Runs []struct {
				Invocations []struct {
					ExecutionSuccessful        bool
					ToolExecutionNotifications []struct{ Message struct{ Text string } }
				}
			}
		}
		require.NoError(t, json.Unmarshal(output(t, "sarif", false, unread(word)), &log))
		require.Len(t, log.Runs[0].Invocations, 1)
		assert.False(t, log.Runs[0].Invocations[0].ExecutionSuccessful)
		require.Len(t, log.Runs[0].Invocations[0].ToolExecutionNotifications, 2)
		assert.True(t, safe(log.Runs[0].Invocations[0].ToolExecutionNotifications[0].Message.Text))

		for _, kind := range []string{"markdown", "ci-log"} {
			got := string(output(t, kind, false, unread(word)))
			assert.Contains(t, got, "bad.toml")
			for _, line := range strings.Split(strings.TrimSpace(got), "\n") {
				assert.True(t, safe(line), "%q", line)
				if kind == "ci-log" {
					assert.True(t, strings.HasPrefix(line, "::error file="), "%q", line)
				}
			}
		}
	}
}

// TestJUnit is read back by a reader that others wrote.
func TestJUnit(t *testing.T) {
	var reports []*lint.Report
	for _, w := range hostileWords {
		reports = append(reports, reportOf(w))
	}
	suites, err := junit.Ingest(output(t, "junit", false, reports...))
	require.NoError(t, err)
	require.Len(t, suites, len(hostileWords))
	for _, s := range suites {
		assert.Equal(t, 5, s.Totals.Tests)
		assert.Equal(t, 1, s.Totals.Failed)
		assert.Equal(t, 3, s.Totals.Skipped)
		assert.Equal(t, 1, s.Totals.Passed)
		for _, c := range s.Tests {
			assert.True(t, safe(c.Name), "%q", c.Name)
			assert.Equal(t, "toy/gap", c.Classname)
		}
	}
}

// TestMarkdownIsLiteral: each table row has its seven cells, no line begins
// anything but a row, a fold or our own words, and no markup of a ledger's is
// left outside entities.
func TestMarkdownIsLiteral(t *testing.T) {
	for _, word := range hostileWords {
		got := string(output(t, "markdown", true, reportOf(word)))
		for _, line := range strings.Split(got, "\n") {
			assert.True(t, safe(line), "%q", line)
			if strings.HasPrefix(line, "|") {
				assert.Equal(t, 8, strings.Count(line, "|"), "%q", line)
			}
			bare := line
			for {
				from := strings.Index(bare, "<code>")
				to := strings.Index(bare, "</code>")
				if from < 0 || to < from {
					break
				}
				assert.NotContains(t, bare[from+6:to], "<")
				assert.NotContains(t, bare[from+6:to], "`")
				assert.NotContains(t, bare[from+6:to], "::")
				bare = bare[:from] + bare[to+7:]
			}
			for _, bad := range []string{"script", "http", "onerror", "@everyone", "`", "gotcha", "::"} {
				assert.NotContains(t, bare, bad)
			}
		}
		assert.Equal(t, strings.Count(got, "<details>"), strings.Count(got, "</details>"))
	}
}

// TestCILog: a command a line, and no line that is not one of ours.
func TestCILog(t *testing.T) {
	for _, word := range hostileWords {
		lines := strings.Split(strings.TrimSuffix(string(output(t, "ci-log", true, reportOf(word))), "\n"), "\n")
		require.Len(t, lines, 2, "%q", word)
		assert.True(t, strings.HasPrefix(lines[0], "::error file=builds/"), lines[0])
		assert.True(t, strings.HasPrefix(lines[1], "::warning file=builds/"), lines[1])
		for _, line := range lines {
			assert.True(t, safe(line), "%q", line)
			properties, _, ok := strings.Cut(strings.TrimPrefix(line, "::"), "::")
			require.True(t, ok)
			assert.Equal(t, 3, strings.Count(properties, ","), properties)
		}
	}
}

// TestNoLogCommand: a CI host reads log lines that begin with :: as commands,
// blanks aside, and others ## with a word and a bracket wherever it stands; what
// goes to the standard output is a log there.
func TestNoLogCommand(t *testing.T) {
	for _, word := range hostileWords {
		for _, kind := range []string{"text", "json", "markdown", "sarif", "junit", "ci-log"} {
			for _, line := range strings.Split(string(output(t, kind, true, reportOf(word))), "\n") {
				assert.False(t, kind != "ci-log" && strings.HasPrefix(strings.TrimSpace(line), "::"), "%s: %q", kind, line)
				assert.NotRegexp(t, `##[A-Za-z]*\[`, line, kind)
			}
		}
		assert.False(t, strings.HasPrefix(strings.TrimSpace(Clean(word)), "::"), "%q", word)
	}
}
