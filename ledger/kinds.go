package ledger

import (
	_ "embed"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"fishplate/ledger/schema"
	"fishplate/ledger/spelling"
)

// kinds are all kinds of entry, by name. A kind is listed here and nowhere
// else; its keys are those of its view.
var kinds = schema.New([]schema.Kind{
	one[BuildInfo]("build", "what the shop calls the build, how far it has come and how it is judged", schema.Kind{System: "papers", Bare: true}),
	one[Vehicle]("vehicle", "the vehicle, as its maker certified it", schema.Kind{System: "body", Bare: true}),
	one[Axle]("vehicle.front", "the front axle", schema.Kind{System: "axles", Called: "front axle"}),
	one[Axle]("vehicle.rear", "the rear axle", schema.Kind{System: "axles", Called: "rear axle"}),
	one[Owner]("owner", "whose it is", schema.Kind{System: "papers", Private: true, OfVehicle: true}),
	one[Engine]("engine", "the engine that goes in", schema.Kind{System: "engine"}),
	one[Engine]("engine-was", "the engine that came out", schema.Kind{System: "engine", Called: "engine that came out"}),
	one[Transmission]("transmission", "the transmission behind the engine", schema.Kind{System: "transmission"}),
	one[Transfer]("transfer", "the transfer case", schema.Kind{System: "driveline", Called: "transfer case"}),
	one[Speedometer]("speedometer", "the speedometer and what it reads", schema.Kind{System: "electrical"}),
	one[Tachometer]("tachometer", "the tachometer and what it reads", schema.Kind{System: "electrical"}),
	one[Supply]("supply", "battery and alternator", schema.Kind{System: "electrical", Called: "electrical supply"}),
	one[Fuel]("fuel", "what the fuel system must carry, and how it is filled and filtered", schema.Kind{System: "fuel", Called: "fuel system"}),
	one[Cooling]("cooling", "the coolant, the cap and the hottest day", schema.Kind{System: "cooling", Called: "cooling system"}),
	one[Intake]("intake", "from the air filter to the engine", schema.Kind{System: "air"}),
	one[Exhaust]("exhaust", "from the engine to the tail pipe", schema.Kind{System: "exhaust"}),
	one[Brakes]("brakes", "what is known of the brakes beside their parts", schema.Kind{System: "brakes"}),
	one[Trailer]("trailer", "the heaviest that is to be towed", schema.Kind{System: "body"}),
	one[ShopInfo]("shop", "the shop itself", schema.Kind{ShopOnly: true, Undigest: true}),

	many[Part]("part", "parts", "a part that went in, came off or moved", schema.Kind{}),
	many[Assembly]("assembly", "assemblies", "what moves as one, by a point that parts are placed from", schema.Kind{}),
	many[Weighing]("weighing", "weighings", "what a scale read under each axle", schema.Kind{System: "papers", OfVehicle: true}),
	many[Load]("load", "loads", "who or what rides along", schema.Kind{System: "body"}),
	many[Tank]("tank", "tanks", "a tank, and what is in it", schema.Kind{}),
	many[Tire]("tire", "tires", "a kind of tire", schema.Kind{System: "wheels"}),
	many[Wheel]("wheel", "wheels", "a kind of wheel", schema.Kind{System: "wheels"}),
	many[Donor]("donor", "donors", "a vehicle that parts come from", schema.Kind{System: "papers", OfVehicle: true}),
	many[Gap]("gap", "gaps", "a gap between two things that must not touch", schema.Kind{}),
	many[Shaft]("shaft", "shafts", "a driveshaft", schema.Kind{System: "driveline"}),
	many[Zone]("zone", "zones", "a place that wires run through, and how hot it gets", schema.Kind{System: "electrical"}),
	many[Circuit]("circuit", "circuits", "a circuit, from what feeds it to what it feeds", schema.Kind{System: "electrical"}),
	many[Relay]("relay", "relays", "a relay", schema.Kind{System: "electrical"}),
	many[Plug]("plug", "plugs", "a plug, pin by pin", schema.Kind{System: "electrical"}),
	many[Splice]("splice", "splices", "where more than two wires meet without a plug", schema.Kind{System: "electrical"}),
	many[Hose]("hose", "hoses", "a hose, tube or pipe of any system", schema.Kind{}),
	many[Wetted]("wetted", "wetted things", "whatever else the fuel touches", schema.Kind{System: "fuel", Called: "wetted thing"}),
	many[Radiator]("radiator", "radiators and coolers", "a core that gives up heat", schema.Kind{System: "cooling", Called: "radiator or cooler"}),
	many[Loop]("loop", "loops", "a loop of hoses and parts that something goes round in", schema.Kind{}),
	many[Lamp]("lamp", "lamps", "a lamp or reflector", schema.Kind{System: "lighting"}),
	many[Mirror]("mirror", "mirrors", "a mirror", schema.Kind{System: "body"}),
	many[SeatBelt]("seat-belt", "seat belts", "a seat belt", schema.Kind{System: "interior"}),
	many[Emission]("emission", "pieces of emission gear", "a piece of emission gear, before and now", schema.Kind{System: "exhaust", Called: "piece of emission gear"}),
	many[Work]("work", "steps of work", "a step of the work, done where it has a date", schema.Kind{Called: "step of work"}),
	many[Test]("test", "tests", "what was read on a test", schema.Kind{System: "papers", OfVehicle: true}),
	many[Answer]("answer", "answers", "an answer to one of the questions that a swap raises", schema.Kind{OfVehicle: true}),
	many[Document]("document", "documents", "a file of the build, with its digest", schema.Kind{System: "papers", OfVehicle: true}),
	many[Decision]("decision", "decisions", "what was chosen, and why", schema.Kind{}),
	many[Instruction]("instruction", "instructions", "what a driver or keeper must do", schema.Kind{}),
	many[Faq]("faq", "questions from buyers", "what buyers and strangers ask, and what is said", schema.Kind{Called: "question from buyers", Undigest: true}),
	many[Visit]("visit", "visits", "the vehicle came back after delivery", schema.Kind{OfVehicle: true, Undigest: true}),
	many[Waiver]("waiver", "waivers", "a failure that someone answers for until a date", schema.Kind{System: "papers", OfVehicle: true}),
	many[Signature]("signature", "signatures", "who stands for the build at a stage", schema.Kind{System: "papers", OfVehicle: true, Undigest: true}),
	many[HookupKind]("hookup", "kinds of hookup", "a kind of hookup that a shop adds", schema.Kind{Called: "kind of hookup", ShopOnly: true, IfUsed: schema.AsHookup}),
	many[Question]("question", "questions", "a question that the shop asks of the builds it concerns", schema.Kind{System: "papers", ShopOnly: true, IfUsed: schema.AsQuestion}),
	many[OwnRule]("rule", "rules", "a rule of the shop's own, in expressions (rules/REFERENCE.md)", schema.Kind{System: "papers", ShopOnly: true, IfUsed: schema.AsRule}),
	many[OwnWord]("word", "words", "a word that a shop adds to a list", schema.Kind{ShopOnly: true, IfUsed: schema.AsWord}),
})

// one is a kind with one entry and no ids.
func one[T any](name, about string, k schema.Kind) schema.Kind {
	k.Single = true
	return many[T](name, "", about, k)
}

// many is a kind whose entries have ids.
func many[T any](name, plural, about string, k schema.Kind) schema.Kind {
	if k.Called == "" {
		k.Called = strings.ReplaceAll(name, "-", " ")
	}
	k.Name, k.Plural, k.About, k.View = name, plural, about, reflect.TypeFor[T]()
	return k
}

// recordedOnly lists the keys that no check reads; a test finds them.
//
//go:embed recorded.txt
var recordedOnly string

var kindNamed, kindOfView = func() (map[string]*schema.Kind, map[reflect.Type]*schema.Kind) {
	byName, byView := map[string]*schema.Kind{}, map[reflect.Type]*schema.Kind{}
	for _, k := range kinds {
		byName[k.Name] = k
		if !k.Single {
			byView[k.View] = k
		}
	}
	for _, line := range strings.Fields(recordedOnly) {
		if f := fieldNamed(byName, line); f != nil {
			f.Recorded = true
		}
	}
	return byName, byView
}()

// fieldNamed finds a key by its full name, "part.made.by".
func fieldNamed(byName map[string]*schema.Kind, name string) *schema.Field {
	for at := len(name) - 1; at > 0; at-- { // "vehicle.front.track" is of vehicle.front
		if k := byName[name[:at]]; k != nil && name[at] == '.' {
			return k.Inner(name[at+1:])
		}
	}
	return nil
}

// Kinds are all kinds of entry, by name.
func Kinds() []*schema.Kind { return slices.Clone(kinds) }

// KindNamed is the kind of a name; nil where there is none.
func KindNamed(name string) *schema.Kind { return kindNamed[name] }

// KindOf is the kind of the entry of a path, "vehicle.front" or "part.engine"; nil
// where there is none.
func KindOf(path string) *schema.Kind {
	if k := kindNamed[path]; k != nil && k.Single {
		return k
	}
	name, _, _ := strings.Cut(path, ".")
	return kindNamed[name]
}

// KindNames lists the kinds of entry, sorted.
func KindNames() []string {
	out := make([]string, len(kinds))
	for i, k := range kinds {
		out[i] = k.Name
	}
	return out
}

// Single tells whether the kind has one entry and no ids.
func Single(kind string) bool { return kindNamed[kind] != nil && kindNamed[kind].Single }

func isKind(word string) bool { return kindNamed[word] != nil }

// slips are words that people write for a key that has another.
var slips = map[string]string{
	"weight": "mass", "location": "at", "position": "at", "place": "at", "qty": "count", "quantity": "count",
	"size": "gauge", "wire": "gauge", "awg": "gauge", "amps": "load", "current": "load", "watts": "power", "volts": "voltage",
	"gvwr": "gross-rating", "gawr": "rating", "gcwr": "combined-rating", "mileage": "odometer", "miles": "odometer",
	"source": "from", "destination": "to", "distance": "measured", "clearance": "measured", "description": "name",
	"back": "behind", "x": "behind", "y": "right", "up": "above", "z": "above",
}

func didYouMean(word string, known []string) string {
	if meant := slips[strings.ToLower(word)]; slices.Contains(known, meant) {
		return fmt.Sprintf("; did you mean %q?", meant)
	}
	return spelling.DidYouMean(word, known)
}

// DidYouMeanKey asks for the key that was meant, as the end of a message; ""
// where none is near.
func DidYouMeanKey(key string, known []string) string { return didYouMean(key, known) }
