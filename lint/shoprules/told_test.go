package shoprules_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const van = `
[build]
stage = "assembly"
[vehicle]
wheelbase = "122 in"
gross-rating = "9900 lb"
[vehicle.front]
tires = 2
[tank.main]
capacity = "34 gal"
at = { behind = "84 in", right = "0 in", above = "20 in" }
[part.a]
role = "alternator"
mass = "20 ± 1 lb"
at = { behind = "10 in", right = "0 in", above = "20 in" }
[part.b]
mass = "30 ± 1 lb"
[part.c]
count = 2
`

// told is a rule with a mark ahead of each thing that is wrong with it, and what is
// told of each, in order.
type told struct {
	name, rule string
	want       []string
}

// TestTold: what is wrong with an expression is told at its line and column in the
// file, all of it at once, with what was meant where that is near.
func TestTold(t *testing.T) {
	for _, c := range []told{
		{"dimension", `each = "part"
holds = "it.mass @< q('2 in')"`, []string{"wrong dimension: a mass is compared with a length"}},
		{"product", `holds = "vehicle.wheelbase * vehicle.wheelbase @< vehicle.wheelbase"`, []string{"wrong dimension: an area is compared with a length"}},
		{"sum of a product", `holds = "(vehicle.wheelbase * vehicle.wheelbase @+ vehicle.wheelbase) * 2 > q('1 in2')"`, []string{"wrong dimension: an area + a length"}},
		{"both branches", `value = "vehicle.duty == 'light' @? vehicle.wheelbase : vehicle.wheelbase * vehicle.wheelbase"
at-most = "q('3 in')"`, []string{"wrong dimension: a choice of a length and an area"}},
		{"a branch that no ledger takes", `holds = "true || q('1 in') @< q('1 lb')"`, []string{"wrong dimension: a length is compared with a mass"}},
		{"in a filter", `holds = "parts().filter(p, p.mass @< q('1 in')).size() < 3"`, []string{"wrong dimension: a mass is compared with a length"}},
		{"what a list gathers", `holds = "sum(parts().map(p, p.mass * p.at.behind)) @< q('1 lb')"`, []string{"a mass"}},
		{"two temperatures", `holds = "zones().all(z, z.temperature @+ z.temperature > q('20 degF'))"`, []string{"wrong dimension: a temperature + a temperature"}},
		{"value and limit", `each = "part"
value = "it.mass"
at-most = "@q('2 in')"`, []string{"wrong dimension: value is a mass, and at-most is a length"}},
		{"between", `each = "part"
value = "it.mass"
between = ["q('2 lb')", "@q('2 in')"]`, []string{"wrong dimension: value is a mass, and between is a length"}},
		{"no size", `holds = "circuits().all(c, conductor_area(c.gauge) >= conductor_area(@'12 ga'))"`, []string{"conductor_area: takes a conductor size, such as 12 AWG, 2/0 AWG or 3 mm2; got \"12 ga\""}},
		{"no size's key", `holds = "circuits().all(c, conductor_area(c.@duty) >= conductor_area('3 mm2'))"`, []string{"conductor_area takes a conductor size, and duty is none"}},
		{"no text", `holds = "circuits().all(c, conductor_area(c.@length) >= conductor_area('3 mm2'))"`, []string{"conductor_area takes a conductor size, as in conductor_area(it.gauge); got a quantity (length)"}},
		{"a size beside a length", `holds = "circuits().all(c, conductor_area(c.gauge) @>= q('2 mm'))"`, []string{"wrong dimension: an area is compared with a length"}},
		{"a figure", `holds = "figure('weight/front-axle', 'vehicle.front') @< q('1 in')"`, []string{"wrong dimension: a mass is compared with a length"}},
		{"key", `each = "part"
value = "it.@maas"
at-most = "q('2 lb')"`, []string{`part has no key "maas"; did you mean "mass"?`}},
		{"key with a hyphen", `holds = "vehicle.@gross-@rating > q('2 lb')"`, []string{`vehicle has no key "gross"; did you mean "gross_rating"? An expression writes the hyphen of a key as _`, "there is no rating here"}},
		{"key that only asks", `holds = "has(vehicle.@weelbase)"`, []string{`vehicle has no key "weelbase"; did you mean "wheelbase"?`}},
		{"key of a place", `each = "tank"
holds = "it.at.@behnd > q('2 in')"`, []string{`place has no key "behnd"; did you mean "behind"?`}},
		{"private", `holds = "vehicle.@vin == 'x' || parts().exists(p, p.@price > q('2 lb'))"`, []string{"a rule may not read vin of vehicle", "a rule may not read price of part"}},
		{"function", `holds = "@prats().size() > 3"`, []string{`there is no function prats; did you mean "parts"?`}},
		{"function of a value", `holds = "parts().@exist('p', true)"`, []string{`there is no .exist(); did you mean "exists"?`}},
		{"name", `holds = "@vehcle.wheelbase > q('2 in')"`, []string{`there is no vehcle here; did you mean "vehicle"?`}},
		{"word", `holds = "parts().exists(p, p.role == @'alternater' || p.origin in ['made', @'bougt'])"`, []string{`role is never "alternater"; did you mean "alternator"?`, `origin is never "bougt"; did you mean "bought"?`}},
		{"unit", `holds = "vehicle.wheelbase > q(@'2 inn')"`, []string{`unknown unit "inn"`}},
		{"two quantities", `holds = "vehicle.wheelbase @== q('2 in') || vehicle.wheelbase @!= q('2 in') || vehicle.wheelbase @in [q('2 in')]"`, []string{"two quantities are not compared with ==", "two quantities are not compared with !=", "is not looked for with in"}},
		{"two entries", `each = "part"
holds = "it @== part('part.a')"`, []string{"two entries are not compared"}},
		{"no yes or no", `holds = "@vehicle.wheelbase"
where = "true && @'x'"`, []string{"holds takes a yes or no", "takes a yes or no, such as"}},
		{"no quantity", `value = "@'2 in'"
at-most = "q('2 in')"`, []string{"value takes a quantity; got text"}},
		{"syntax", `holds = "vehicle.wheelbase @vehicle"`, []string{"vehicle does not belong here"}},
		{"too early", `holds = "vehicle.wheelbase <@"`, []string{"the expression ends too early"}},
		{"money", `holds = "q(@'20 USD') > q(@'10 USD')"`, []string{"a rule reckons with no money", "a rule reckons with no money"}},
		{"no such rule", `holds = "figure(@'weight/front-axel', 'vehicle.front') > q('2 lb')"`, []string{`there is no rule "weight/front-axel"; did you mean "weight/front-axle"?`}},
		{"no such entry", `holds = "figure('weight/front-axle', @'vehicle.rear') > q('2 lb')"`, []string{"weight/front-axle reckons on vehicle.front; got vehicle.rear"}},
		{"in some respect", `holds = "figure('weight/seated', @'vehicle.front') > q('2 lb')"`, []string{`it reckons several, each in some respect: a third word says in which, such as "seats" or "seats and cargo"`}},
		{"in a respect", `holds = "figure('weight/seated', 'vehicle.front', @'seat') > q('2 lb')"`, []string{`it reckons nothing in respect of "seat"; did you mean "seats"?`}},
		{"the dimension in a respect", `holds = "figure('weight/payload', 'vehicle', 'seats and belts') @< q('2 lb')"`, []string{"wrong dimension: a pure number is compared with a mass"}},
		{"itself", `value = "figure(@'shop/x', 'vehicle')"
at-most = "q('2 lb')"`, []string{"shop/x asks for its own figure"}},
		{"escapes before it", `holds = "\"a\\\"\u00e9\" == 'x' && \tvehicle.@weelbase > q('2 in')"`, []string{`vehicle has no key "weelbase"`}},
		{"lines", "holds = \"\"\"\n  vehicle.wheelbase > q('2 in') &&\n  vehicle.@weelbase > q('2 in') && \\\n    vehicle.@baseweel\n      > q(@'2 é')\"\"\"", []string{`no key "weelbase"`, `no key "baseweel"`, "unit"}},
		{"literal lines", "holds = '''\nvehicle.wheelbase > q('2 in') &&\n\tvehicle.@weelbase > q('2 in')'''", []string{`vehicle has no key "weelbase"`}},
	} {
		t.Run(c.name, func(t *testing.T) {
			head := "[rule.x]\ntitle = \"x\"\nsource = \"common practice, no source\"\n"
			text := head + c.rule + "\n"
			rep := by(t, strings.ReplaceAll(text, "@", ""), van)
			var got []string
			var at [][2]int
			for _, f := range rep.Faults {
				got = append(got, f.Message)
				at = append(at, [2]int{f.Place.Line, f.Place.Column})
				assert.True(t, strings.HasSuffix(f.Place.File, "shop.toml"), f)
			}
			require.Len(t, got, len(c.want), "%v", got)
			for i, w := range c.want {
				assert.Contains(t, got[i], w)
			}
			assert.Equal(t, marks(text), at, "%v", got)
		})
	}
}

// marks are the lines and columns of the marks in a text, as they are without them.
func marks(text string) (out [][2]int) {
	line, column := 1, 1
	for _, c := range text {
		switch c {
		case '@':
			out = append(out, [2]int{line, column})
		case '\n':
			line, column = line+1, 1
		default:
			column++
		}
	}
	return out
}

// TestToldAtOnce: rules in shop.toml and beside it, each with its fault, and one
// of a build's, are told together; the sound rules judge all the same.
func TestToldAtOnce(t *testing.T) {
	rep := judge(t, lay(t, map[string]string{
		"shop.toml": `
[rule.a]
title = "a"
holds = "vehicle.weelbase > q('2 in')"
source = "s"
[rule.sound]
title = "sound"
holds = "vehicle.wheelbase > q('2 in')"
source = "s"
[rule.no-limit]
title = "n"
value = "vehicle.wheelbase"
[rule.a-pair]
title = "n"
value = "figure('shop/another', 'vehicle')"
at-most = "q('1 in')"
source = "s"
`, "rules/more.toml": `
[rule.b]
title = "b"
holds = "fooo()"
source = "s"
[rule.another]
title = "n"
value = "figure('shop/a-pair', 'vehicle')"
at-most = "q('1 in')"
source = "s"
[limits]
"weight/front-axle" = "3 lb"
`, "v/build.toml": van + "\nwheelbas = 3\n"}))
	var got []string
	for _, f := range rep.Faults {
		got = append(got, f.Place.File[strings.LastIndexByte(f.Place.File, '/')+1:]+" "+f.Message)
	}
	for _, want := range []string{
		`build.toml unknown key "wheelbas"`, `shop.toml vehicle has no key "weelbase"`, "shop.toml rule.no-limit says no source",
		"shop.toml rule.no-limit has a value and no limit", "more.toml there is no function fooo", "more.toml [limits] stands in shop.toml",
		"the figures of these rules wait for one another: shop/a-pair, shop/another, and back",
	} {
		assert.Condition(t, func() bool { return strings.Contains(strings.Join(got, "\n"), want) }, "%s in %s", want, strings.Join(got, "\n"))
	}
	assert.Len(t, of(rep, "shop/sound"), 1)
}
