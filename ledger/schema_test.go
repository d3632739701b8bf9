package ledger_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
)

// fields are all keys of all kinds, those of tables inside them too.
func fields(yield func(name string, f *schema.Field)) {
	var walk func(name string, k *schema.Kind)
	walk = func(name string, k *schema.Kind) {
		for _, f := range k.Fields {
			yield(name+"."+f.Key, f)
			if f.Type == schema.Table {
				walk(name+"."+f.Key, f.Nested)
			}
		}
	}
	for _, k := range ledger.Kinds() {
		walk(k.Name, k)
	}
}

// What the tags name is there: kinds, keys, lists of words.
func TestSchemaNamesWhatThereIs(t *testing.T) {
	lists := map[string]bool{"": true}
	for _, l := range ledger.WordLists() {
		lists[l.Name] = true
	}
	fields(func(name string, f *schema.Field) {
		kind := ledger.KindOf(name)
		require.NotNil(t, kind, name)
		assert.NotEmpty(t, f.About, name)
		assert.True(t, lists[f.Words], "%s: no list %q", name, f.Words)
		for _, r := range append(append([]string{}, f.Refs...), f.Keys) {
			assert.True(t, r == "" || r == "any" || ledger.KindNamed(r) != nil, "%s names no kind %q", name, r)
		}
		for _, k := range []string{f.Else, f.Unless} {
			assert.True(t, k == "" || kind.Has(k), "%s names no key %q", name, k)
		}
		if f.Type == schema.Place {
			assert.True(t, f.Nested.Field("behind").Position, name)
		}
		assert.Contains(t, []schema.Moved{schema.MovedNot, schema.MovedEnd, schema.MovedRead, schema.MovedBefore, schema.MovedDate, schema.MovedAlong}, f.Moves, name)
	})
	for _, k := range ledger.Kinds() {
		assert.NotEmpty(t, k.About, k.Name)
		assert.NotEmpty(t, k.Called, k.Name)
		assert.Equal(t, k.Single, k.Plural == "", k.Name)
	}
}

// What a shop pays and is paid is commercial, whatever it is called; so is
// nothing that a rule may want.
func TestMoneyIsCommercial(t *testing.T) {
	fields(func(name string, f *schema.Field) {
		if f.Type == schema.Quantity && (f.Dim == q.Money || f.Dim == q.MoneyRate) {
			assert.True(t, f.Commercial, name)
			assert.True(t, f.Private, name)
		}
		if f.Commercial {
			assert.False(t, f.Digested(), name)
		}
	})
}

// What was read, rated or numbered on one vehicle is told from what a second one
// built like it has as well.
func TestOfThisVehicle(t *testing.T) {
	mine := map[string]bool{}
	fields(func(name string, f *schema.Field) {
		mine[name] = f.OfVehicle
		if f.Type == schema.Date && !f.Ends {
			assert.True(t, mine[name], name)
		}
	})
	for _, name := range []string{"vehicle.vin", "vehicle.gross-rating", "vehicle.front.rating", "weighing.front", "gap.measured", "shaft.slopes",
		"test.readings", "work.date", "work.found", "speedometer.measured", "donor.odometer", "document.sha256", "signature.digest", "waiver.because", "owner.name"} {
		assert.True(t, mine[name], name)
	}
	for _, name := range []string{"vehicle.wheelbase", "engine.idle", "part.mass", "part.at", "circuit.gauge", "gap.kind", "gap.least", "hose.material", "tire.load-rating"} {
		assert.False(t, mine[name], name)
		_, there := mine[name]
		assert.True(t, there, name)
	}
}

// What no check reads is told; what checks read is not.
func TestRecordedIsTold(t *testing.T) {
	for name, want := range map[string]bool{"part.supplier": true, "part.sold-for": true, "decision.chose": true, "part.mass": false, "part.made.material": false, "vehicle.front.rating": false} {
		kind := ledger.KindOf(name)
		f := kind.Inner(strings.TrimPrefix(name, kind.Name+"."))
		if strings.HasPrefix(name, "vehicle.front.") {
			f = ledger.KindNamed("vehicle.front").Inner("rating")
		}
		if assert.NotNil(t, f, name) {
			assert.Equal(t, want, f.Recorded, name)
		}
	}
}

// A value's key leads to its field, through lists, tables and places.
func TestFieldOfAValue(t *testing.T) {
	for key, want := range map[string]schema.Type{
		"part.mass": schema.Quantity, "part.at.behind": schema.Quantity, "part.at.from": schema.Ref, "part.made.drawing": schema.Ref,
		"part.needs.vacuum.least": schema.Quantity, "plug.pins.4.color": schema.Word, "circuit.to.1": schema.Ref, "weighing.levels.tank.main": schema.Quantity,
		"test.readings.held": schema.Truth, "part.note": schema.Word,
	} {
		kind, rest, _ := strings.Cut(key, ".")
		f := ledger.KindNamed(kind).At(rest)
		if assert.NotNil(t, f, key) {
			assert.Equal(t, want, f.Type, key)
		}
	}
	assert.Nil(t, ledger.KindNamed("part").At("made.of"))
	assert.Nil(t, ledger.KindNamed("part").At("no-such-key"))
}
