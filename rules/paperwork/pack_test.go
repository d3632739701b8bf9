package paperwork_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"fishplate/rules/packtest"
	"fishplate/rules/paperwork"
)

func TestPack(t *testing.T) { packtest.Run(t, paperwork.Pack, "testdata") }

func TestKinds(t *testing.T) {
	assert.Equal(t, []string{"certification-label", "weigh-ticket", "bill-of-sale", "engine-label", "drawing", "photo"}, paperwork.Kinds())
}
