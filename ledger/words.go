package ledger

import (
	"fmt"
	"slices"
	"strings"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
	"fishplate/ledger/spelling"
	"fishplate/ledger/syntax"
)

// WordList is a list of words that rules go by. A word that is not on it
// decides nothing and is told: a rule that would read it waits for a known one.
type WordList struct {
	Name, About string
	Words       []string // sorted
}

// WordLists are the lists, by name. A shop adds words of its own with
// [word.ID], each like a known one.
func WordLists() []WordList { return slices.Clone(wordLists) }

var wordLists = []WordList{
	wordList("body", "what body the vehicle has", `
		ambulance box-truck bus cab-chassis cargo-van convertible coupe crew-cab-pickup extended-cab-pickup flatbed
		forward-control-van hardtop hatchback motor-home passenger-van pickup sedan step-van suv tractor utility van wagon`),
	wordList("fluid", "what runs in a hose or loop, or fills a tank", `
		air brake-fluid charge-air clutch-fluid compressed-air coolant crankcase-vapor engine-oil exhaust fresh-water fuel fuel-vapor
		gear-oil hydraulic-oil power-steering-fluid refrigerant transmission-fluid urea-solution vacuum vegetable-oil waste-water
		washer-fluid water
		B100 B10 B15 B2 B20 B5 B7 biodiesel diesel E0 E10 E15 E85 ethanol gasoline kerosene propane`),
	wordList("hose role", "what a hose does", `
		bypass drain feed fill heater-feed heater-return overflow pressure purge reducer return suction supply vent`),
	wordList("material", "what a fluid touches", `
		copper brass bronze lead tin zinc-galvanized aluminum-bare carbon-steel stainless-steel nbr hnbr natural-rubber chloroprene
		polyurethane pvc polypropylene hdpe nylon-6-66 nylon-12 fkm-bisphenol-cured fkm-peroxide-cured fvmq epdm vmq ptfe pom-acetal
		nitrile nitrile-rubber nbr-rubber nitrile-butadiene-rubber acrylonitrile-butadiene acrylonitrile-butadiene-rubber
		hydrogenated-nitrile hydrogenated-nitrile-rubber polychloroprene chloroprene-rubber fkm fpm fluoroelastomer fluorocarbon-rubber
		peroxide-cured-fkm bisphenol-cured-fkm silicone silicone-rubber fluorosilicone urethane vinyl polyvinyl-chloride pp
		high-density-polyethylene polytetrafluoroethylene ethylene-propylene-diene ethylene-propylene-diene-rubber nylon-6 nylon-66
		pa6 pa66 pa12 polyamide-6 polyamide-66 polyamide-12 acetal pom polyoxymethylene steel mild-steel bare-steel stainless aluminum
		zinc galvanized galvanized-steel rubber nylon plastic polyethylene`),
	wordList("mounting", "where a part or a load rides, other than in the vehicle", `
		axle bed frame hitch hood inside rack roof tongue wheel`),
	wordList("pin function", "what a pin's wire does", `
		power ignition battery-power ground sensor-ground sensor-supply signal trigger starter-trigger charge-lamp tach-signal road-speed-signal level-signal
		oil-pressure coolant-temperature lamp fan-control relay-coil communication-high communication-low shield back-up-lamp stop-lamp turn-signal spare`),
	wordList("role", "what a part is, in the trade's word", `
		accelerator-cable accessory air-compressor air-conditioning-compressor air-conditioning-condenser air-filter alternator
		anti-lock-unit axle-actuator axle-shaft back-up-switch ball-joint battery bed bell-housing belt belt-tensioner block-heater blower
		body-panel bracket brake-booster brake-caliper brake-controller brake-drum brake-hose brake-line brake-pads brake-rotor
		brake-shoes bumper bushing cab-heater camshaft-sensor carburetor carrier-bearing catalyst charge-air-cooler charge-air-hose
		clutch clutch-cable clutch-master clutch-pedal clutch-switch coolant-gauge coolant-heater coolant-hose coolant-sender coolant-temperature-gauge
		crank-sensor crossmember cruise-control cruise-switch damper dc-converter distributor downpipe drag-link driveshaft
		dynamo ecu emission-gear engine engine-controller engine-cover engine-mount engine-stop evaporative-canister exhaust exhaust-brake
		exhaust-gas-gauge exhaust-manifold exhaust-pipe expansion-tank fan fan-clutch fan-shroud feed-pump fluid coolant-pump heater-pump oil-pump fluid-pump fluid-cooler pump filler flex-plate flywheel frame front-axle fuel-cooler
		fuel-filter fuel-gauge fuel-heater fuel-line fuel-pump fuel-rail fuel-sender fuel-tank fuse-block gauge glow-plug ground-cable harness heater-control
		heater-core heater-hose heater-valve heat-shield high-pressure-pump hitch horn hose hubs hydraulic-booster hydraulic-pump idler-arm
		ignition ignition-switch in-tank-pump injection-pump injector instrument-panel intake-heater intake-manifold intercooler inverter isolator
		kick-down-cable lamp leaf-spring lift-pump linkage lower-radiator-hose manual-brakes master-cylinder mirror motor mount muffler
		neutral-switch oil-cooler oil-filter oil-pan oil-pressure-gauge oil-sender panel parking-brake park-lock pedal pitman-arm power-steering-pump preheater
		proportioning-valve pto pulley pump rack radiator radiator-cap rear-axle reducer relay relay-block rocker-cover seat seat-belt shackle
		shift-cable shifter shock-absorber shut-off-solenoid skid-plate slave-cylinder solenoid speed-sender speedometer splash-shield spring spring-bushing
		starter starter-interlock starter-relay steering-box steering-column steering-coupler steering-damper steering-gear steering-rack steering-shaft
		stop-lamp-switch stop-solenoid suspension switch tachometer tachometer-sender tail-pipe tailpipe tank temperature-sender thermostat throttle-body
		throttle-cable throttle-pedal throttle-sensor tie-rod tire torque-converter track-bar transfer-case transmission transmission-controller
		transmission-cooler transmission-mount trim turbocharger u-joint urea-tank vacuum-pump vacuum-reservoir vacuum-switch vehicle-speed-sensor voltage-regulator
		washer-pump water-pump water-separator water-tank wheel wheel-bearing wheel-cylinder winch wiper-motor
		boost-gauge transmission-gauge cold-start-aid fill-tank front-differential rear-differential hydraulic-steering alternator-bracket adapter adapter-plate body-harness engine-harness`),
	wordList("system", "which system of the vehicle an entry belongs to", strings.Join(SystemNames(), " ")),
}

func wordList(name, about, words string) WordList {
	all := strings.Fields(words)
	slices.Sort(all)
	return WordList{name, about, slices.Compact(all)}
}

// words are those that a build may use: on each list, what a word is taken as.
type words map[string]map[string]string

var knownWords = func() words {
	out := words{}
	for _, l := range wordLists {
		out[l.Name] = map[string]string{}
		for _, w := range l.Words {
			out[l.Name][spelled(w)] = w
		}
	}
	return out
}()

// with is the words and one more of a shop's own.
func (w words) with(list, word, like string) words {
	out := words{}
	for name, m := range w {
		out[name] = m
	}
	mine := map[string]string{word: like}
	for k, v := range w[list] {
		mine[k] = v
	}
	out[list] = mine
	return out
}

// spelled is a word as the lists spell words: in small letters, its parts
// joined by hyphens, American.
func spelled(word string) string {
	if plain(word) {
		return American(word)
	}
	return American(strings.Join(strings.FieldsFunc(strings.ToLower(word), func(r rune) bool { return r == ' ' || r == '_' || r == '-' }), "-"))
}

// plain tells a word that is in small letters and digits, its parts joined by
// single hyphens.
func plain(word string) bool {
	joined := true // where a part begins
	for i := range len(word) {
		switch c := word[i]; {
		case c == '-' && joined, c != '-' && (c < 'a' || c > 'z') && (c < '0' || c > '9'):
			return false
		default:
			joined = c == '-'
		}
	}
	return !joined
}

// Unheard is a word of an entry that is on no list.
type Unheard struct {
	Key, Word, List string
	Place           q.Place
	Need            q.Need
}

// known is the word as its list has it, or one that is missing until it is
// another. A hose's class is no word of a list; neither is free text.
func (b *binder) known(f *schema.Field, text string, n *syntax.Node, key string) q.Word {
	src := b.source(key, n.KeyAt)
	all := b.words
	if all == nil {
		all = knownWords
	}
	if as, ok := all[f.Words][spelled(text)]; ok {
		return q.Written(as, src)
	}
	need := q.Need{Key: fmt.Sprintf("a known word for %s; %q is none%s", src.Path(), text, meant(spelled(text), sortedKeys(all[f.Words]))), Place: q.Place{File: b.place.File, Line: n.ValueAt.Line, Column: n.ValueAt.Column}}
	b.unheard = append(b.unheard, Unheard{key, text, f.Words, need.Place, need})
	return q.Unheard(src, need)
}

// mostWords is how many words a fault names in place of one that is on no list.
const mostWords = 30

// meant says which words of a list may be meant by one that is not on it: the one
// that is spelled nearest, else those that have all of its parts, else all of a short
// list, else those that have one of its parts. It is "" where there are none, or too
// many.
func meant(word string, list []string) string {
	if near := spelling.Nearest(word, list); near != "" {
		return fmt.Sprintf(": did you mean %q?", near)
	}
	parts := strings.Split(word, "-")
	having := func(most int, tells func(has func(string) bool) bool) string {
		var out []string
		for _, w := range list {
			its := strings.Split(w, "-")
			if tells(func(part string) bool { return slices.Contains(its, part) }) {
				out = append(out, w)
			}
		}
		if len(out) == 0 || len(out) > most {
			return ""
		}
		return ": is " + schema.Or(out) + " meant?"
	}
	all := having(8, func(has func(string) bool) bool {
		return !slices.ContainsFunc(parts, func(p string) bool { return !has(p) })
	})
	switch {
	case all != "":
		return all
	case len(list) > 0 && len(list) <= mostWords:
		return ": it takes " + schema.Or(list)
	}
	return having(8, func(has func(string) bool) bool { return slices.ContainsFunc(parts, has) })
}

func sortedKeys(m map[string]string) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// Unheard lists the entry's words that are on no list, in the order of their
// keys.
func (e *Entry) Unheard() []Unheard { return e.strange }

// ownWords reads the words that a shop adds.
func (r *reader) ownWords(root *syntax.Node) {
	n := root.Child("word")
	if n == nil {
		return
	}
	for _, c := range n.Children {
		of, at := stringOf(c.Child("of"))
		like, likeAt := stringOf(c.Child("like"))
		switch m := knownWords[of]; {
		case c.Child("of") == nil:
			r.fault(c.KeyAt, "word.%s does not say of: which list it is for, such as role", c.Key)
		case m == nil:
			var names []string
			for _, l := range wordLists {
				names = append(names, l.Name)
			}
			r.fault(at, "there is no list of words %q; takes one of %s%s", of, schema.Or(names), didYouMean(of, names))
		case c.Child("like") == nil && of == "system" && m[spelled(c.Key)] == "": // a group of its own
			r.words = r.words.with(of, spelled(c.Key), spelled(c.Key))
		case c.Child("like") == nil:
			r.fault(c.KeyAt, "word.%s does not say like: the known word that it is taken as", c.Key)
		case m[spelled(c.Key)] != "":
			r.fault(c.KeyAt, "%q is a known word for a %s already", c.Key, of)
		case m[spelled(like)] == "":
			r.fault(likeAt, "%q is no known word for a %s%s", like, of, didYouMean(like, sortedKeys(m)))
		default:
			r.words = r.words.with(of, spelled(c.Key), m[spelled(like)])
		}
	}
}

// KnownWords are the words that a list has here, the shop's own among them, as
// entries have them once they are read: sorted.
func (b *Build) KnownWords(list string) []string {
	all := b.words
	if all == nil {
		all = knownWords
	}
	var out []string
	for _, as := range all[list] {
		out = append(out, as)
	}
	slices.Sort(out)
	return slices.Compact(out)
}
