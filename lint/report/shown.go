package report

import (
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/lint/report/shown"
)

// Clean is shown.Clean, under the name that most know it by.
func Clean(s string) string { return shown.Clean(s) }

// Numbers are the figures of a check in words.
type Numbers = shown.Numbers

// NumbersOf words the figures of a check; all empty where it compares none.
func NumbersOf(r *lint.Result, s quantity.Style) Numbers { return shown.NumbersOf(r, s) }

// Grade is the grade of a value, where it is less than stated.
func Grade(a *quantity.Analysis) string { return shown.Grade(a) }
