package ledger_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"fishplate/ledger"
)

func TestHeavierSizes(t *testing.T) {
	assert.Equal(t, []string{"1 AWG", "1/0 AWG", "2/0 AWG", "3/0 AWG", "4/0 AWG"}, ledger.HeavierSizes("2 AWG"))
	assert.Equal(t, "16 AWG", ledger.HeavierSizes("17 AWG")[0], "a size that is not sold")
	assert.Equal(t, []string{"3/0 AWG", "4/0 AWG"}, ledger.HeavierSizes("2/0 AWG"))
	assert.Empty(t, ledger.HeavierSizes("4/0 AWG"))
	assert.Equal(t, "4 mm2", ledger.HeavierSizes("3 mm2")[0])
	assert.Empty(t, ledger.HeavierSizes("300 mm2"))
	assert.Empty(t, ledger.HeavierSizes("thick"))
}
