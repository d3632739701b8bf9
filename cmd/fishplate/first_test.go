package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// firstEvening is what a shop writes on the day on which the vehicle comes: six
// parts, and that an automatic of a donor goes in.
const firstEvening = `# The first evening: what stands in the yard, and what is to go in.
[build]
title = "Siskin: diesel four in a half-ton pickup"
stage = "intake"

[vehicle]
make = "Tarvold"
model = "Fieldhand 115"
year = 1987
body = "pickup"
drive = "four-wheel"
fuel = "gasoline"

[donor.van]
make = "Drummel"
model = "Cartage 9"
fuel = "diesel"

[engine]
part = "part.engine"
fuel = "diesel"

[transmission]
part = "part.gearbox"
kind = "automatic"

[part.engine-was]
role = "engine"
origin = "original"
fitted = false

[part.engine]
role = "engine"
origin = "donor"
donor = "donor.van"

[part.gearbox]
role = "transmission"
origin = "donor"
donor = "donor.van"

[part.booster]
role = "brake-booster"
origin = "original"

[part.tank]
role = "fuel-tank"
origin = "original"

[part.radiator]
role = "radiator"
origin = "original"
`

// TestFirstEvening: who begins is not met by a wall of questions. At most ten
// lines ask for something at intake, and the screen holds them; the rest is one
// line a stage.
func TestFirstEvening(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "build.toml"), []byte(firstEvening), 0o644))
	require.Equal(t, 6, strings.Count(firstEvening, "[part."))
	var out, errs bytes.Buffer
	status := run([]string{"fishplate", "check", dir}, real(&out, &errs))
	require.Zero(t, status, errs.String())
	_, asked, found := strings.Cut(out.String(), "Next, for plan")
	require.True(t, found, out.String())
	asked, rest, found := strings.Cut(asked, "\n\n")
	require.True(t, found, out.String())
	lines := strings.Split(asked, "\n")[1:]
	assert.NotEmpty(t, lines)
	assert.LessOrEqual(t, len(lines), 10, asked)
	assert.Contains(t, rest, "Later: ", "what comes later is told in a line")
	assert.LessOrEqual(t, strings.Count(out.String(), "\n"), 24, "the whole of it fits a screen of 24 lines:\n%s", out.String())
}
