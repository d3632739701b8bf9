package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/lint/report"
)

// TestWhatShopsCopy: the commands in what a shop copies are ones that there
// are, with flags and kinds of report that there are.
func TestWhatShopsCopy(t *testing.T) {
	files, err := filepath.Glob("../../.github/for-shops/*")
	require.NoError(t, err)
	app := real(nil, nil).app()
	seen := 0
	call := regexp.MustCompile(`fishplate"? (check|compare|[a-z]+) (.*)`)
	for _, name := range files {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		for _, line := range strings.Split(string(text), "\n") {
			m := call.FindStringSubmatch(line)
			if m == nil || strings.HasPrefix(strings.TrimSpace(line), "#") || strings.Contains(line, "go build") {
				continue
			}
			cmd := app.Command(m[1])
			require.NotNil(t, cmd, line)
			seen++
			_, _, err := split(cmd, strings.Fields(m[2]))
			assert.NoError(t, err, line)
			kinds := report.Kinds
			if m[1] == "compare" {
				kinds = report.CompareKinds
			}
			for _, r := range regexp.MustCompile(`--report ([a-z-]+)`).FindAllStringSubmatch(line, -1) {
				assert.Contains(t, report.KindNames(kinds), r[1], line)
			}
		}
	}
	assert.Equal(t, 4, seen, "check three times, compare once")
}

// TestWorkflowsPointSomewhere: a file of the repository that a workflow names
// is there.
func TestWorkflowsPointSomewhere(t *testing.T) {
	text, err := os.ReadFile("../../.github/workflows/ci.yml")
	require.NoError(t, err)
	named := regexp.MustCompile(`(\.[a-z]+/[a-z.-]+|[a-z-]+\.yml|go\.mod)`).FindAllString(string(text), -1)
	require.NotEmpty(t, named)
	for _, n := range named {
		_, err := os.Stat(filepath.Join("../..", strings.TrimSuffix(n, ".")))
		assert.NoError(t, err, n)
	}
}
