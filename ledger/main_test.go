package ledger_test

import (
	"os"
	"testing"

	"fishplate/ledger/golden"
)

func TestMain(m *testing.M) { os.Exit(golden.Tests{M: m}.Run()) }
