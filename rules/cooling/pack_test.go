package cooling

import (
	"testing"

	"fishplate/rules/packtest"
)

func TestPack(t *testing.T) { packtest.Run(t, Pack, "testdata") }

func TestSourcesAreUsed(t *testing.T) {
	for _, u := range data.Unused() {
		t.Errorf("source %s is not used", u)
	}
}
