package clearance

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"fishplate/rules/packtest"
)

func TestPack(t *testing.T) { packtest.Run(t, Pack, "testdata") }

func TestEverySourceIsUsed(t *testing.T) { assert.Empty(t, data.Unused()) }
