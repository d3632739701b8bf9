package harness

import (
	"testing"

	"fishplate/rules/packtest"
)

func TestPack(t *testing.T) { packtest.Run(t, Pack, "testdata") }
