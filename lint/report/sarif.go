package report

import (
	"bufio"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"net/url"
	"strings"

	"fishplate/lint"
)

// The parts of SARIF 2.1.0 (OASIS Standard, 27 March 2020) that are written,
// by the names of the standard.
type (
	sarifText struct {
		Text string `json:"text"`
	}
	sarifRule struct {
		ID               string    `json:"id"`
		ShortDescription sarifText `json:"shortDescription"`
		FullDescription  sarifText `json:"fullDescription"`
		Help             sarifText `json:"help"`
		Default          struct {
			Level string `json:"level"`
		} `json:"defaultConfiguration"`
	}
	sarifRegion struct {
		StartLine   int `json:"startLine"`
		StartColumn int `json:"startColumn"`
	}
	sarifLocation struct {
		Physical struct {
			Artifact struct {
				URI string `json:"uri"`
			} `json:"artifactLocation"`
			Region *sarifRegion `json:"region,omitempty"`
		} `json:"physicalLocation"`
		Logical []sarifLogical `json:"logicalLocations"`
	}
	sarifLogical struct {
		Name string `json:"fullyQualifiedName"`
	}
	sarifSuppression struct {
		Kind          string `json:"kind"`
		Status        string `json:"status"`
		Justification string `json:"justification"`
	}
	sarifResult struct {
		RuleID       string             `json:"ruleId"`
		Kind         string             `json:"kind"`
		Level        string             `json:"level"`
		Message      sarifText          `json:"message"`
		Locations    []sarifLocation    `json:"locations"`
		Fingerprints map[string]string  `json:"partialFingerprints"`
		Suppressions []sarifSuppression `json:"suppressions,omitempty"`
	}
)

// SARIF writes a static-analysis log (OASIS SARIF 2.1.0) for tools that show
// findings beside a change.
func SARIF(to io.Writer, opt Options) *Writer {
	w := bufio.NewWriter(to)
	fmt.Fprint(w, `{"version": "2.1.0", "$schema": "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json", "runs": [{"columnKind": "unicodeCodePoints", "results": [`)
	rules := map[string]sarifRule{}
	var order []string
	sep := "\n"
	return &Writer{
		Build: func(r *lint.Report) error {
			for _, c := range r.Results {
				if !opt.All && (c.Verdict == lint.Pass || c.Verdict == lint.NotApplicable) {
					continue
				}
				if _, ok := rules[c.Rule.Name]; !ok {
					rules[c.Rule.Name] = sarifRuleOf(c.Rule)
					order = append(order, c.Rule.Name)
				}
				fmt.Fprintf(w, "%s%s", sep, encode(sarifResultOf(c, r)))
				sep = ",\n"
			}
			return w.Flush()
		},
		Close: func(t *Totals) error {
			fmt.Fprintf(w, "],\n\"invocations\": [{\"executionSuccessful\": %t%s}],\n\"tool\": {\"driver\": {\"name\": \"fishplate\", \"rules\": [", t.Unread == 0, sarifNotes(t.Left))
			sep := "\n"
			for _, name := range order {
				fmt.Fprintf(w, "%s%s", sep, encode(rules[name]))
				sep = ",\n"
			}
			fmt.Fprint(w, "]}}}]}\n")
			return w.Flush()
		},
	}
}

// sarifSays is a text of a ledger's or of ours. A plain message may have links in it,
// as [words](target) (SARIF 3.11.6): none of a ledger's is one.
func sarifSays(text string) sarifText {
	return sarifText{strings.ReplaceAll(Clean(text), "](", `]\x28`)}
}

type sarifNote struct {
	Level     string          `json:"level"`
	Message   sarifText       `json:"message"`
	Locations []sarifLocation `json:"locations"`
}

// sarifNotes tell of the builds that cannot be read (SARIF 3.20.21).
func sarifNotes(left []Unread) string {
	if len(left) == 0 {
		return ""
	}
	notes := []sarifNote{}
	for _, u := range left {
		for _, f := range u.Faults {
			l := sarifLocation{Logical: []sarifLogical{{u.Folder}}}
			l.Physical.Artifact.URI = uri(strings.TrimPrefix(f.Place.File, u.Revision))
			if f.Place.Line > 0 {
				l.Physical.Region = &sarifRegion{f.Place.Line, max(1, f.Place.Column)}
			}
			notes = append(notes, sarifNote{"error", sarifSays(f.Message), []sarifLocation{l}})
		}
	}
	return fmt.Sprintf(", \"toolExecutionNotifications\": %s", encode(notes))
}

func sarifRuleOf(r *lint.Rule) sarifRule {
	out := sarifRule{ID: r.Name, ShortDescription: sarifSays(r.Title), FullDescription: sarifSays(r.Title)}
	out.Default.Level = "error"
	if r.Should {
		out.Default.Level = "warning"
	}
	help := []string{r.Title + ".", "Source: " + Sources(r) + "."}
	if r.Note != "" {
		help = append(help, r.Note)
	}
	if r.Caution != "" {
		help = append(help, "Caution: "+r.Caution)
	}
	out.Help = sarifSays(strings.Join(help, " "))
	return out
}

func sarifResultOf(c *lint.Result, r *lint.Report) sarifResult {
	out := sarifResult{RuleID: c.Rule.Name, Message: sarifSays(Sentence(c, r.Build.Style()))}
	verdict := c.Verdict
	if verdict == lint.Waived {
		verdict = c.Underlying
		out.Suppressions = []sarifSuppression{{"external", "accepted", sarifSays(c.Reason).Text}}
	}
	out.Kind, out.Level = sarifKind(verdict, c)
	var l sarifLocation
	l.Physical.Artifact.URI = uri(strings.TrimPrefix(c.Place.File, r.Revision))
	if c.Place.Line > 0 {
		l.Physical.Region = &sarifRegion{c.Place.Line, max(1, c.Place.Column)}
	}
	l.Logical = []sarifLogical{{c.Entry}}
	out.Locations = []sarifLocation{l}
	out.Fingerprints = map[string]string{"check/v1": Fingerprint(r, c)}
	return out
}

// sarifKind: what fails the run is fail and error, a should that fails is a
// warning; what is open, and not due, has kind open and no level (SARIF
// 3.27.9 and 3.27.10).
func sarifKind(v lint.Verdict, c *lint.Result) (kind, level string) {
	switch {
	case c.Counts:
		return "fail", "error"
	case v == lint.Fail && c.Should:
		return "fail", "warning"
	case v == lint.Fail:
		return "fail", "error"
	case v == lint.Pass:
		return "pass", "none"
	case v == lint.NotApplicable:
		return "notApplicable", "none"
	}
	return "open", "none"
}

// Fingerprint identifies a check over revisions: a hash of the build's folder,
// named without a revision, rule, entry and aspect, without a line.
func Fingerprint(r *lint.Report, c *lint.Result) string {
	folder := strings.TrimPrefix(r.Folder, r.Revision)
	sum := sha256.Sum256([]byte(strings.Join([]string{folder, c.Rule.Name, c.Entry, c.Aspect}, "\x00")))
	return hex.EncodeToString(sum[:16])
}

// uri is a file's name as a relative reference of RFC 3986.
func uri(file string) string {
	parts := strings.Split(file, "/")
	for i, p := range parts {
		parts[i] = strings.ReplaceAll(url.PathEscape(p), ":", "%3A")
	}
	return strings.Join(parts, "/")
}
