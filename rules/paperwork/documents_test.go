package paperwork

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"fishplate/rules/packtest"
)

// TestOtherwise: a document that proves what is asked for, of a kind that no rule looks
// for, is named where the document is missed; one of another known kind is not.
func TestOtherwise(t *testing.T) {
	with := func(kind, proves string) string {
		b := packtest.Build(t, "[vehicle]\nmake = \"Corvane\"\n[document.door]\nkind = \""+kind+"\"\nproves = [\""+proves+"\"]\n")
		return otherwise(b, b.Vehicle())
	}
	assert.Equal(t, ` (document.door does, but its kind is "label")`, with("label", "vehicle"))
	assert.Equal(t, ` (document.door does, but its kind is "label")`, with("label", "vehicle.make"))
	assert.Empty(t, with("photo", "vehicle"))
	assert.Empty(t, with("label", "document.door"))
}
