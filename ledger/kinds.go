package ledger

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
)

// kinds are all kinds of entry, by name. A kind is listed here and nowhere
// else; its keys are those of its view.
var kinds = schema.New([]schema.Kind{
	one[BuildInfo]("build", "what the shop calls the build, how far it has come and how it is judged", schema.Kind{Bare: true}),
	one[Vehicle]("vehicle", "the vehicle, as its maker certified it", schema.Kind{Bare: true}),
	one[Axle]("vehicle.front", "the front axle", schema.Kind{Called: "front axle"}),
	one[Axle]("vehicle.rear", "the rear axle", schema.Kind{Called: "rear axle"}),
	one[Owner]("owner", "whose it is", schema.Kind{Private: true, OfVehicle: true}),
	one[Engine]("engine", "the engine that goes in", schema.Kind{}),
	one[Engine]("engine-was", "the engine that came out", schema.Kind{Called: "engine that came out"}),
	one[Transmission]("transmission", "the transmission behind the engine", schema.Kind{}),
	one[Transfer]("transfer", "the transfer case", schema.Kind{Called: "transfer case"}),
	one[Speedometer]("speedometer", "the speedometer and what it reads", schema.Kind{}),
	one[Tachometer]("tachometer", "the tachometer and what it reads", schema.Kind{}),
	one[Supply]("supply", "battery and alternator", schema.Kind{Called: "electrical supply"}),
	one[Fuel]("fuel", "what the fuel system must carry, and how it is filled and filtered", schema.Kind{Called: "fuel system"}),
	one[Cooling]("cooling", "the coolant, the cap and the hottest day", schema.Kind{Called: "cooling system"}),
	one[Intake]("intake", "from the air filter to the engine", schema.Kind{}),
	one[Exhaust]("exhaust", "from the engine to the tail pipe", schema.Kind{}),
	one[Brakes]("brakes", "what is known of the brakes beside their parts", schema.Kind{}),
	one[Trailer]("trailer", "the heaviest that is to be towed", schema.Kind{}),
	one[ShopInfo]("shop", "the shop itself", schema.Kind{ShopOnly: true, Undigest: true}),

	many[Part]("part", "parts", "a part that went in, came off or moved", schema.Kind{}),
	many[Assembly]("assembly", "assemblies", "what moves as one, by a point that parts are placed from", schema.Kind{}),
	many[Weighing]("weighing", "weighings", "what a scale read under each axle", schema.Kind{OfVehicle: true}),
	many[Load]("load", "loads", "who or what rides along", schema.Kind{}),
	many[Tank]("tank", "tanks", "a tank, and what is in it", schema.Kind{}),
	many[Tire]("tire", "tires", "a kind of tire", schema.Kind{}),
	many[Wheel]("wheel", "wheels", "a kind of wheel", schema.Kind{}),
	many[Donor]("donor", "donors", "a vehicle that parts come from", schema.Kind{OfVehicle: true}),
	many[Gap]("gap", "gaps", "a gap between two things that must not touch", schema.Kind{}),
	many[Shaft]("shaft", "shafts", "a driveshaft", schema.Kind{}),
	many[Zone]("zone", "zones", "a place that wires run through, and how hot it gets", schema.Kind{}),
	many[Circuit]("circuit", "circuits", "a circuit, from what feeds it to what it feeds", schema.Kind{}),
	many[Relay]("relay", "relays", "a relay", schema.Kind{}),
	many[Plug]("plug", "plugs", "a plug, pin by pin", schema.Kind{}),
	many[Splice]("splice", "splices", "where more than two wires meet without a plug", schema.Kind{}),
	many[Hose]("hose", "hoses", "a hose, tube or pipe of any system", schema.Kind{}),
	many[Wetted]("wetted", "wetted things", "whatever else the fuel touches", schema.Kind{Called: "wetted thing"}),
	many[Radiator]("radiator", "radiators and coolers", "a core that gives up heat", schema.Kind{Called: "radiator or cooler"}),
	many[Loop]("loop", "loops", "a loop of hoses and parts that something goes round in", schema.Kind{}),
	many[Lamp]("lamp", "lamps", "a lamp or reflector", schema.Kind{}),
	many[Mirror]("mirror", "mirrors", "a mirror", schema.Kind{}),
	many[SeatBelt]("seat-belt", "seat belts", "a seat belt", schema.Kind{}),
	many[Emission]("emission", "pieces of emission gear", "a piece of emission gear, before and now", schema.Kind{Called: "piece of emission gear"}),
	many[Work]("work", "steps of work", "a step of the work, done where it has a date", schema.Kind{Called: "step of work"}),
	many[Test]("test", "tests", "what was read on a test", schema.Kind{OfVehicle: true}),
	many[Answer]("answer", "answers", "an answer to one of the questions that a swap raises", schema.Kind{OfVehicle: true}),
	many[Document]("document", "documents", "a file of the build, with its digest", schema.Kind{OfVehicle: true}),
	many[Decision]("decision", "decisions", "what was chosen, and why", schema.Kind{}),
	many[Instruction]("instruction", "instructions", "what a driver or keeper must do", schema.Kind{}),
	many[Faq]("faq", "questions from buyers", "what buyers and strangers ask, and what is said", schema.Kind{Called: "question from buyers", Undigest: true}),
	many[Visit]("visit", "visits", "the vehicle came back after delivery", schema.Kind{OfVehicle: true, Undigest: true}),
	many[Waiver]("waiver", "waivers", "a failure that someone answers for until a date", schema.Kind{OfVehicle: true}),
	many[Signature]("signature", "signatures", "who stands for the build at a stage", schema.Kind{OfVehicle: true, Undigest: true}),
	many[HookupKind]("hookup", "kinds of hookup", "a kind of hookup that a shop adds", schema.Kind{Called: "kind of hookup", ShopOnly: true, IfUsed: schema.AsHookup}),
	many[Question]("question", "questions", "a question that the shop asks of the builds it concerns", schema.Kind{ShopOnly: true, IfUsed: schema.AsQuestion}),
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

var kindNamed, kindOfView = func() (map[string]*schema.Kind, map[reflect.Type]*schema.Kind) {
	byName, byView := map[string]*schema.Kind{}, map[reflect.Type]*schema.Kind{}
	for _, k := range kinds {
		byName[k.Name] = k
		if !k.Single {
			byView[k.View] = k
		}
	}
	return byName, byView
}()

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

// What these types are to the schema.
func (Date) SchemaType() schema.Type   { return schema.Date }
func (Ref) SchemaType() schema.Type    { return schema.Ref }
func (Spot) SchemaType() schema.Type   { return schema.Place }
func (Hookup) SchemaType() schema.Type { return schema.Hookup }

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
	if near := q.Nearest(word, known); near != "" {
		return fmt.Sprintf("; did you mean %q?", near)
	}
	return ""
}
