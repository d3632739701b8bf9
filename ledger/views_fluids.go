package ledger

import q "fishplate/ledger/quantity"

// Fuel is [fuel].
type Fuel struct {
	Head
	Carries         []q.Word   `key:"carries" known:"fluid" few:"" about:"the fuels it must carry, such as diesel, B20"`
	Filler          q.Word     `key:"filler" oneof:"wide,narrow" about:"the filler neck: passes a diesel spout or not"`
	FillerLabel     q.Word     `key:"filler-label" about:"what the label at the filler says"`
	WaterSeparator  Ref        `key:"water-separator" ref:"part" about:"part.x"`
	FilterRating    q.Quantity `key:"filter-rating" dim:"length" exact:"" unit:"um" above-zero:"" about:"of the final filter, in um"`
	FilterAsked     q.Quantity `key:"filter-asked" dim:"length" exact:"" unit:"um" above-zero:"" about:"how fine a filter the engine asks for"`
	ReturnLine      Ref        `key:"return-line" ref:"hose" words:"" about:"hose.x, or \"not needed\""`
	Vent            q.Word     `key:"vent" about:"how the tank breathes"`
	Viscosity       q.Quantity `key:"viscosity" dim:"kinematic-viscosity" above-zero:"" about:"at the coldest that it will run"`
	PumpAllows      q.Quantity `key:"pump-allows" dim:"pressure" exact:"" about:"what may be lost ahead of the pump"`
	ReturnAllows    q.Quantity `key:"return-allows" dim:"pressure" exact:"" about:"what the engine allows in its return line"`
	ReturnBoreWas   q.Quantity `key:"return-bore-was" dim:"length" above-zero:"" about:"narrowest bore of the return on the vehicle that the engine comes from"`
	ReturnLengthWas q.Quantity `key:"return-length-was" dim:"length" above-zero:"" about:"length of the return there"`
	InTankPump      q.Word     `key:"in-tank-pump" oneof:"removed,kept,none" about:"what became of it"`
	Canister        q.Word     `key:"evaporative-canister" oneof:"kept,capped,removed,none" about:"what became of it"`
}

// Hose is [hose.ID]: a hose, tube or pipe of any system.
type Hose struct {
	Head
	Carries          q.Word     `key:"carries" known:"fluid" public:"" about:"what runs in it"`
	Material         q.Word     `key:"material" known:"material" public:"" about:"what it is made of inside"`
	Class            q.Word     `key:"class" public:"chosen" about:"its class, such as 30R9"`
	From             Ref        `key:"from" ref:"part,hose" words:"" public:"chosen" between:"" about:"where it starts: part.x, hose.x or words"`
	To               Ref        `key:"to" ref:"part,hose" words:"" public:"chosen" between:"" about:"where it ends"`
	Bore             q.Quantity `key:"bore" dim:"length" lever:"" above-zero:"" public:"" about:"its own bore"`
	BoreFrom         q.Quantity `key:"bore-from" dim:"length" above-zero:"" about:"bore of what it joins at the start"`
	BoreTo           q.Quantity `key:"bore-to" dim:"length" above-zero:"" about:"bore of what it joins at the end"`
	Length           q.Quantity `key:"length" dim:"length" lever:"0.5 to 3" public:"" about:"length"`
	Role             q.Word     `key:"role" known:"hose role" public:"" about:"supply, return, vent, fill, ..."`
	Pressure         q.Quantity `key:"pressure" dim:"pressure" about:"the highest in use"`
	Temperature      q.Quantity `key:"temperature" dim:"temperature" about:"the highest in use"`
	RatedPressure    q.Quantity `key:"rated-pressure" dim:"pressure" exact:"" above-zero:"" about:"the maker's working pressure"`
	RatedTemperature q.Quantity `key:"rated-temperature" dim:"temperature" exact:"" about:"the maker's temperature"`
	RatedFor         []q.Word   `key:"rated-for" known:"fluid" about:"fuels that the maker rates it for"`
	Immersed         q.Truth    `key:"immersed" default:"false" about:"it lies in the fuel"`
	RatedImmersed    q.Truth    `key:"rated-immersed" about:"the maker rates it for immersion"`
	Flow             q.Quantity `key:"flow" dim:"flow" unit:"gph or L/h" about:"what runs through it at most"`
	Joined           q.Word     `key:"joined" public:"chosen" about:"how it is joined"`
	Clamps           q.Word     `key:"clamps" public:"chosen" about:"clamps"`
	CutFrom          q.Word     `key:"cut-from" about:"the molded hose it was cut from"`
	OrderAs          q.Word     `key:"order-as" public:"" about:"what to ask for at a parts counter"`
	Wears            q.Truth    `key:"wears" default:"false" public:"" about:"the next owner will have to buy it"`
	Supplier         q.Word     `key:"supplier" commercial:"" about:"who sold it"`
	Price            q.Quantity `key:"price" dim:"sum of money" commercial:"" private:"" about:"what it costs"`
	Ordered          Date       `key:"ordered" commercial:"" about:"when it was ordered"`
	Arrived          Date       `key:"arrived" past:"" about:"when it came in"`
}

// Wetted is [wetted.ID]: whatever else the fuel touches.
type Wetted struct {
	Head
	Part     Ref     `key:"part" ref:"part" words:"" about:"part.x, or words"`
	Material q.Word  `key:"material" known:"material" about:"what the fuel touches"`
	Wears    q.Truth `key:"wears" default:"false" about:"the next owner will have to buy it"`
	OrderAs  q.Word  `key:"order-as" about:"what to ask for at a parts counter"`
}

// Answer is [answer.ID].
type Answer struct {
	Head
	Question q.Word `key:"question" public:"chosen" about:"which of the usual questions it answers"`
	Says     q.Word `key:"says" free:"" public:"chosen" about:"the answer"`
	Date     Date   `key:"date" past:"" about:"when it was answered, or tried"`
	Entries  []Ref  `key:"entries" ref:"any" public:"chosen" about:"entries that it is about"`
}

// Work is [work.ID]: a step of the work, done where it has a date.
type Work struct {
	Head
	Title       q.Word     `key:"title" public:"chosen" about:"what is to do"`
	Parts       []Ref      `key:"parts" was:"on" ref:"part" public:"chosen" about:"part.x worked on"`
	Did         q.Word     `key:"did" oneof:"renewed,inspected,cleaned,coated,torqued,repaired,adjusted,tested,made,fitted,removed,measured" public:"chosen" about:"what was done"`
	Stage       q.Word     `key:"stage" oneof:"intake,plan,mock-up,assembly,first-start,road-test,delivery" about:"the stage by which it is done"`
	After       []Ref      `key:"after" ref:"work" about:"work.x that comes first"`
	PartsInHand []Ref      `key:"parts-in-hand" ref:"part" about:"part.x that must have come in"`
	By          q.Word     `key:"by" about:"who: shop, or who outside"`
	Hours       q.Quantity `key:"hours" dim:"time" unit:"h" commercial:"" private:"" about:"planned, such as ~6 h"`
	Spent       q.Quantity `key:"spent" dim:"time" unit:"h" commercial:"" private:"" of-this-vehicle:"" about:"spent so far"`
	Date        Date       `key:"date" past:"" about:"when it was done; left out while it is to do"`
	Found       q.Word     `key:"found" free:"" of-this-vehicle:"" public:"chosen" about:"what was found"`
	Reading     q.Word     `key:"reading" of-this-vehicle:"" public:"chosen" about:"what was read"`
	Price       q.Quantity `key:"price" dim:"sum of money" commercial:"" private:"" about:"of work done outside"`
	Torque      q.Quantity `key:"torque" dim:"torque" above-zero:"" of-this-vehicle:"" about:"what the bolts were torqued to"`
	Maker       q.Quantity `key:"torque-asked" dim:"torque" above-zero:"" about:"what the maker asks for"`
	Bolt        q.Quantity `key:"bolt" dim:"length" above-zero:"" about:"nominal diameter of the bolts, where the maker gives no torque"`
	Clamp       q.Quantity `key:"clamp" dim:"force" above-zero:"" about:"what one bolt has to clamp with, where the maker gives no torque"`
	Document    Ref        `key:"document" ref:"document" of-this-vehicle:"" about:"what shows it"`
}

// Document is [document.ID].
type Document struct {
	Head
	Kind    q.Word  `key:"kind" about:"what it is, such as weigh-ticket or photo"`
	File    q.Word  `key:"file" about:"path in the build folder"`
	SHA256  q.Word  `key:"sha256" sum:"" about:"digest of the file"`
	Date    Date    `key:"date" was:"on" about:"date"`
	By      q.Word  `key:"by" about:"who made it"`
	Proves  []Ref   `key:"proves" ref:"any" about:"entries or values it proves"`
	Private q.Truth `key:"private" default:"false" about:"left out of a public book"`
}

// Waiver is [waiver.ID].
type Waiver struct {
	Head
	Rule    q.Word `key:"rule" about:"pack/rule"`
	Entry   q.Word `key:"entry" about:"the entry whose check is waived"`
	Aspect  q.Word `key:"aspect" about:"which of several checks on it"`
	Because q.Word `key:"because" free:"" about:"the reason"`
	By      q.Word `key:"by" about:"who answers for it"`
	Until   Date   `key:"until" ends:"" about:"the last day it holds"`
}

// Signature is [signature.ID].
type Signature struct {
	Head
	Stage  q.Word `key:"stage" oneof:"intake,plan,mock-up,assembly,first-start,road-test,delivery" about:"the stage signed for"`
	By     q.Word `key:"by" about:"who signed"`
	Date   Date   `key:"date" was:"on" about:"when"`
	Digest q.Word `key:"digest" sum:"" about:"of the ledger that was signed"`
}
