package ledger

import q "fishplate/ledger/quantity"

// Transmission is [transmission].
type Transmission struct {
	Head
	Part         Ref          `key:"part" ref:"part" public:"" about:"part.x"`
	Kind         q.Word       `key:"kind" oneof:"automatic,manual" public:"" about:"automatic or manual"`
	Gears        []q.Quantity `key:"gears" above-zero:"" public:"" about:"ratios, first gear first"`
	StallRatio   q.Quantity   `key:"stall-ratio" above-zero:"" public:"" about:"torque ratio of the converter at stall"`
	TorqueRating q.Quantity   `key:"torque-rating" dim:"torque" exact:"" above-zero:"" public:"" about:"rated input torque"`
	Controller   Ref          `key:"controller" ref:"part" about:"part.x that shifts it"`
	BoreRunout   q.Quantity   `key:"bore-runout" dim:"length" of-this-vehicle:"" about:"dial gauge on the crankshaft, all round the bore that locates the transmission"`
	FaceRunout   q.Quantity   `key:"face-runout" dim:"length" of-this-vehicle:"" about:"the same on the face that it bolts to"`
	RunoutLimit  q.Quantity   `key:"runout-limit" dim:"length" exact:"" above-zero:"" about:"what the maker allows of either"`
	HubEngaged   q.Quantity   `key:"hub-engaged" dim:"length" of-this-vehicle:"" about:"how far the converter's hub stands in the crankshaft's pilot once bolted up"`
	PullForward  q.Quantity   `key:"pull-forward" dim:"length" of-this-vehicle:"" about:"gap between converter and flex plate before they are bolted, transmission home"`
}

// Transfer is [transfer].
type Transfer struct {
	Head
	Part         Ref        `key:"part" ref:"part" public:"" about:"part.x"`
	High         q.Quantity `key:"high" above-zero:"" public:"" about:"high range ratio"`
	Low          q.Quantity `key:"low" above-zero:"" public:"" about:"low range ratio"`
	TorqueRating q.Quantity `key:"torque-rating" dim:"torque" exact:"" above-zero:"" public:"" about:"rated input torque"`
}

// ShaftAngles are angle-finder readings of a shaft and what it joins.
type ShaftAngles struct {
	From   q.Quantity `key:"from" dim:"angle" lever:"position" public:"chosen" about:"of the part it comes from"`
	Shaft  q.Quantity `key:"shaft" dim:"angle" lever:"position" public:"chosen" about:"of the shaft; of its first tube where it has three joints"`
	Second q.Quantity `key:"second" dim:"angle" lever:"position" public:"chosen" about:"of the second tube of a shaft with three joints"`
	To     q.Quantity `key:"to" dim:"angle" lever:"position" public:"chosen" about:"of the part it goes to"`
}

// Shaft is [shaft.ID].
type Shaft struct {
	Head
	From             Ref         `key:"from" ref:"part" moves:"end" public:"chosen" about:"part.x that drives it"`
	To               Ref         `key:"to" ref:"part" moves:"end" public:"chosen" about:"part.x that it drives"`
	Length           q.Quantity  `key:"length" dim:"length" lever:"0.5 to 3" above-zero:"" moves:"reading" of-this-vehicle:"" public:"chosen" about:"joint center to joint center; of the first tube where it has three joints"`
	LengthSecond     q.Quantity  `key:"length-second" dim:"length" lever:"" above-zero:"" of-this-vehicle:"" public:"chosen" about:"of the second tube of a shaft with three joints"`
	LengthWas        q.Quantity  `key:"length-was" dim:"length" above-zero:"" of-this-vehicle:"" about:"as received"`
	Tube             q.Quantity  `key:"tube" dim:"length" above-zero:"" public:"chosen" about:"outside diameter of the tube"`
	Wall             q.Quantity  `key:"wall" dim:"length" above-zero:"" public:"chosen" about:"wall of the tube"`
	Material         q.Word      `key:"material" oneof:"steel,aluminum" default:"steel" about:"of the tube"`
	Yield            q.Quantity  `key:"yield" dim:"pressure" exact:"" above-zero:"" about:"yield strength of the tube, by its maker"`
	Joints           q.Word      `key:"joints" oneof:"2,3,cv,cv-plain" whole:"" public:"chosen" about:"how many plain joints; cv for constant velocity at both ends; cv-plain for constant velocity where it is driven and a plain joint at the other end"`
	Slopes           ShaftAngles `key:"slopes" moves:"reading" of-this-vehicle:"" public:"chosen" about:"side view, down to the rear positive"`
	Plan             ShaftAngles `key:"plan" moves:"reading" of-this-vehicle:"" public:"chosen" about:"seen from above, to the right positive"`
	Phased           q.Truth     `key:"phased" public:"chosen" about:"yokes in line"`
	CenterBearing    q.Truth     `key:"center-bearing" default:"false" about:"it has a center bearing"`
	JointRating      q.Quantity  `key:"joint-rating" dim:"torque" exact:"" above-zero:"" about:"torque that its joints are rated for"`
	SlipEngaged      q.Quantity  `key:"slip-engaged" dim:"length" lever:"" moves:"reading" of-this-vehicle:"" public:"chosen" about:"spline engaged at ride height"`
	SlipEngagedLeast q.Quantity  `key:"slip-engaged-least" dim:"length" exact:"" about:"least engagement allowed"`
	SlipLeft         q.Quantity  `key:"slip-left" dim:"length" lever:"" moves:"reading" of-this-vehicle:"" public:"chosen" about:"travel left before it bottoms, at ride height"`
	SlipUsed         q.Quantity  `key:"slip-used" dim:"length" public:"chosen" about:"what the suspension takes, each way"`
	BeforeMove       q.Truth     `key:"before-move" default:"false" moves:"before" of-this-vehicle:"" about:"read before the assembly moved"`
	Read             Date        `key:"read" past:"" moves:"date" about:"date of the readings"`
}

// Tachometer is [tachometer].
type Tachometer struct {
	Head
	Expects     q.Quantity `key:"expects" dim:"count-a-revolution" above-zero:"" about:"pulses a crankshaft revolution"`
	Sender      Ref        `key:"sender" ref:"part" about:"part.x"`
	PolePairs   q.Quantity `key:"pole-pairs" exact:"" above-zero:"" about:"of the alternator, where it is the sender"`
	PulleyRatio q.Quantity `key:"pulley-ratio" above-zero:"" about:"crankshaft pulley over alternator pulley"`
	Pulses      q.Quantity `key:"pulses" dim:"count-a-revolution" above-zero:"" about:"pulses a crankshaft revolution of a sender that is not an alternator"`
	DividedBy   q.Quantity `key:"divided-by" default:"1" above-zero:"" about:"what a converter between sender and tachometer divides the pulses by"`
}

// Speedometer is [speedometer].
type Speedometer struct {
	Head
	Expects   q.Quantity `key:"expects" dim:"count-a-distance" above-zero:"" about:"pulses a mile"`
	Sender    Ref        `key:"sender" ref:"part" about:"part.x"`
	Pulses    q.Quantity `key:"pulses" dim:"count-a-revolution" above-zero:"" about:"pulses a revolution of what it turns with"`
	TurnsWith q.Word     `key:"turns-with" oneof:"shaft,wheel" about:"what the sender turns with"`
	DividedBy q.Quantity `key:"divided-by" default:"1" above-zero:"" about:"what a converter between sender and speedometer divides the pulses by"`
	Measured  q.Quantity `key:"measured" dim:"count-a-distance" of-this-vehicle:"" about:"what reaches the speedometer, counted over a measured mile"`
	Read      Date       `key:"read" past:"" about:"date of the count"`
}

// Cooling is [cooling].
type Cooling struct {
	Head
	Rejected     q.Quantity `key:"rejected" dim:"power" unit:"BTU/min or kW" about:"heat to coolant at rated power"`
	HeatShare    q.Quantity `key:"heat-share" within:"0 to 1" about:"share of the fuel's heat that goes to coolant"`
	Ambient      q.Quantity `key:"ambient" dim:"temperature" exact:"" about:"design ambient"`
	Mix          q.Quantity `key:"mix" within:"0 to 1" public:"" about:"share of glycol by volume"`
	Cap          q.Quantity `key:"cap" dim:"pressure" public:"" about:"pressure cap"`
	CapAsked     q.Quantity `key:"cap-asked" dim:"pressure" exact:"" above-zero:"" about:"least pressure cap that the engine asks for"`
	TopTankLimit q.Quantity `key:"top-tank-limit" dim:"temperature" exact:"" public:"" about:"hottest top tank allowed"`
	FuelFlow     q.Quantity `key:"fuel-flow" dim:"mass-flow" above-zero:"" unit:"lb/h or kg/h" about:"fuel burned at rated power, such as 62 lb/h, where rejected is not known"`
	AirPressure  q.Quantity `key:"air-pressure" dim:"absolute-pressure" about:"of the air at the design ambient; sea level where it is left out"`
}

// Radiator is [radiator.ID]: a radiator, or a transmission or charge-air cooler.
type Radiator struct {
	Head
	Part             Ref        `key:"part" ref:"part" public:"chosen" about:"part.x"`
	Cools            q.Word     `key:"cools" oneof:"coolant,transmission,charge-air,oil" default:"coolant" public:"chosen" about:"what it cools"`
	Rating           q.Quantity `key:"rating" dim:"power" above-zero:"" unit:"BTU/min or kW" public:"chosen" about:"heat given up at its rating difference"`
	RatingDifference q.Quantity `key:"rating-difference" dim:"temperature-difference" exact:"" above-zero:"" public:"chosen" about:"inlet temperature less air at that rating"`
	Effectiveness    q.Quantity `key:"effectiveness" within:"0 to 1" about:"of a charge-air cooler"`
	OutletLimit      q.Quantity `key:"outlet-limit" dim:"temperature" exact:"" about:"hottest outlet allowed"`
	Heat             q.Quantity `key:"heat" dim:"power" unit:"BTU/min or kW" about:"heat that it must give up, where not the engine's"`
	CooledBy         q.Word     `key:"cooled-by" oneof:"air,coolant" default:"air" about:"air, or coolant for a cooler in the radiator's tank"`
	AirRise          q.Quantity `key:"air-rise" dim:"temperature-difference" about:"how far the coolers ahead of it warm its air"`
	InletLimit       q.Quantity `key:"inlet-limit" dim:"temperature" exact:"" about:"hottest inlet allowed, of a transmission cooler"`
	Conductance      q.Quantity `key:"conductance" dim:"heat-flow-a-degree" above-zero:"" about:"U A of the core, where its maker gives no rating"`
	AirFlow          q.Quantity `key:"air-flow" dim:"flow" above-zero:"" unit:"cfm" about:"cooling air through the core, with its conductance"`
	Flow             q.Quantity `key:"flow" dim:"flow" above-zero:"" about:"coolant through the core, with its conductance"`
}

// Loop is [loop.ID].
type Loop struct {
	Head
	Carries q.Word  `key:"carries" known:"fluid" public:"chosen" about:"what runs in it"`
	Through []Ref   `key:"through" ref:"part,hose" public:"chosen" about:"part.x and hose.x in order"`
	Closed  q.Truth `key:"closed" public:"chosen" about:"it comes back to where it starts"`
}

// Intake is [intake].
type Intake struct {
	Head
	FilterFlow       q.Quantity `key:"filter-flow" dim:"flow" exact:"" above-zero:"" unit:"cfm" about:"what the filter passes at its rated restriction"`
	Bore             q.Quantity `key:"bore" dim:"length" above-zero:"" about:"bore of the duct"`
	Restriction      q.Quantity `key:"restriction" dim:"pressure" unit:"inH2O or kPa" of-this-vehicle:"" about:"measured at rated power"`
	RestrictionLimit q.Quantity `key:"restriction-limit" dim:"pressure" exact:"" above-zero:"" unit:"inH2O or kPa" about:"what the engine allows"`
}

// Exhaust is [exhaust].
type Exhaust struct {
	Head
	Bore              q.Quantity `key:"bore" dim:"length" above-zero:"" about:"bore of the pipe"`
	BackPressure      q.Quantity `key:"back-pressure" dim:"pressure" unit:"inHg or kPa" of-this-vehicle:"" about:"measured at rated power"`
	BackPressureLimit q.Quantity `key:"back-pressure-limit" dim:"pressure" exact:"" above-zero:"" unit:"inHg or kPa" about:"what the engine allows"`
}

// Brakes is [brakes].
type Brakes struct {
	Head
	AntiLock q.Word `key:"anti-lock" oneof:"all,rear" public:"" about:"a working anti-lock system, on all wheels or the rear ones only"`
	Document Ref    `key:"document" ref:"document" about:"what shows that it was found working"`
}

// Trailer is [trailer], the heaviest that is to be towed.
type Trailer struct {
	Head
	Mass         q.Quantity `key:"mass" dim:"mass" lever:"0.5 to 1.5" above-zero:"" about:"loaded"`
	Tongue       q.Quantity `key:"tongue" dim:"mass" lever:"0.5 to 1.5" about:"what its tongue puts on the ball, loaded"`
	BallAt       Spot       `key:"ball-at" about:"where the ball is"`
	Distributing q.Truth    `key:"weight-distributing" default:"false" about:"its hitch distributes the tongue's weight"`
	FrontLoad    q.Quantity `key:"front-load" dim:"mass" above-zero:"" of-this-vehicle:"" about:"scale reading under the front axle, all loaded and hitched, with such a hitch"`
	RearLoad     q.Quantity `key:"rear-load" dim:"mass" above-zero:"" of-this-vehicle:"" about:"the same under the rear axle"`
}

// Readings are what a test may record.
type Readings struct {
	Speed            q.Quantity `key:"speed" dim:"speed" about:"speed at the start"`
	Distance         q.Quantity `key:"distance" dim:"length" unit:"ft or m" about:"stopping distance"`
	Deceleration     q.Quantity `key:"deceleration" dim:"acceleration" about:"mean deceleration"`
	Grade            q.Quantity `key:"grade" about:"slope, such as 20 %"`
	Held             q.Truth    `key:"held" about:"it held"`
	HeldUp           q.Truth    `key:"held-up" about:"it held facing up the grade, nothing in gear"`
	HeldDown         q.Truth    `key:"held-down" about:"it held facing down the grade, nothing in gear"`
	Pull             q.Quantity `key:"pull" dim:"force" about:"pull on the level that the parking brake held"`
	BrakedAndSteered q.Truth    `key:"braked-and-steered" about:"brakes and steering were worked together, hard, at a crawl, and neither went heavy"`
	FrontFirst       q.Truth    `key:"fronts-lock-first" about:"in a hard stop the front wheels locked before the rear ones"`
	Started          q.Truth    `key:"started" about:"it started off"`
	TopTank          q.Quantity `key:"top-tank" dim:"temperature" about:"top tank temperature"`
	Ambient          q.Quantity `key:"ambient" dim:"temperature" about:"air temperature"`
	EngineSpeed      q.Quantity `key:"engine-speed" dim:"speed-of-rotation" about:"engine speed"`
	Gear             q.Quantity `key:"gear" exact:"" above-zero:"" about:"the gear it was in, 1 for first, in high range"`
	FullThrottle     q.Truth    `key:"full-throttle" about:"the throttle was open all the way until the reading stood still"`
	Voltage          q.Quantity `key:"voltage" dim:"voltage" about:"system voltage"`
	Current          q.Quantity `key:"current" dim:"current" signed:"" about:"current"`
	CrankingFeed     q.Quantity `key:"cranking-feed" dim:"voltage" about:"lost while it cranks from the battery's positive post to the starter's stud"`
	CrankingGround   q.Quantity `key:"cranking-ground" dim:"voltage" about:"lost while it cranks from the starter's case to the battery's negative post"`
	Transmission     q.Quantity `key:"transmission" dim:"temperature" about:"transmission fluid temperature"`
	ExhaustGas       q.Quantity `key:"exhaust-gas" dim:"temperature" about:"exhaust gas temperature at the hottest"`
	OilTemp          q.Quantity `key:"oil-temperature" dim:"temperature" about:"engine oil temperature"`
	OilPressure      q.Quantity `key:"oil-pressure" dim:"pressure" about:"engine oil pressure"`
	FuelPressure     q.Quantity `key:"fuel-pressure" dim:"pressure" signed:"" about:"fuel pressure ahead of the injection pump or rail"`
	Boost            q.Quantity `key:"boost" dim:"pressure" about:"boost"`
	Vacuum           q.Quantity `key:"vacuum" dim:"pressure" unit:"inHg" about:"vacuum depth"`
	Hydraulic        q.Quantity `key:"hydraulic" dim:"pressure" about:"pressure at the hydraulic booster"`
	StopsLeft        q.Quantity `key:"stops-left" exact:"" about:"assisted stops left with the engine off"`
	FrontBrake       q.Quantity `key:"front-brake" dim:"force" about:"braking force of the front axle, both wheels"`
	RearBrake        q.Quantity `key:"rear-brake" dim:"force" about:"braking force of the rear axle, at the same pedal effort"`
	Weight           q.Quantity `key:"weight" dim:"mass" above-zero:"" about:"what the vehicle weighed for the test"`
}

// Test is [test.ID].
type Test struct {
	Head
	Kind     q.Word   `key:"kind" oneof:"stop,parking,assist,brake-force,road,top-tank,charge,cranking,grade,fuel-supply" about:"what was tested"`
	Date     Date     `key:"date" was:"on" past:"" about:"date"`
	By       q.Word   `key:"by" about:"who"`
	Readings Readings `key:"readings" about:"what was read"`
	Document Ref      `key:"document" ref:"document" about:"what shows it"`
}

// Lamp is [lamp.ID].
type Lamp struct {
	Head
	Kind         q.Word     `key:"kind" oneof:"headlamp,tail,stop,turn-signal,parking,side-marker,reflex-reflector,auxiliary,clearance,plate,back-up" about:"what lamp"`
	Height       q.Quantity `key:"height" dim:"length" lever:"" above-zero:"" of-this-vehicle:"" about:"center above the road, at curb weight"`
	Read         Date       `key:"read" past:"" about:"date of the reading"`
	Spread       q.Quantity `key:"spread" dim:"length" of-this-vehicle:"" about:"between the two"`
	SwitchedWith q.Word     `key:"switched-with" about:"what it is switched with"`
}

// SeatBelt is [seat-belt.ID].
type SeatBelt struct {
	Head
	Seat        q.Word `key:"seat" about:"which seat"`
	Webbing     q.Word `key:"webbing" oneof:"original,re-webbed,replaced" about:"its webbing"`
	Certificate Ref    `key:"certificate" ref:"document" about:"what its maker or re-webber says of it"`
}

// Mirror is [mirror.ID].
type Mirror struct {
	Head
	Side q.Word     `key:"side" oneof:"left,right,inside" about:"which side"`
	Area q.Quantity `key:"area" dim:"area" above-zero:"" about:"reflecting surface"`
	Kind q.Word     `key:"kind" oneof:"flat,convex" about:"unit magnification or convex"`
}

// Emission is [emission.ID].
type Emission struct {
	Head
	Gear     q.Word `key:"gear" public:"" about:"which piece of emission gear"`
	Was      q.Word `key:"was" public:"" about:"what there was"`
	Now      q.Word `key:"now" oneof:"kept,replaced,not fitted to this engine" public:"" about:"what became of it"`
	Document Ref    `key:"document" ref:"document" about:"what shows it"`
}

// Pin is one pin of a plug.
type Pin struct {
	Now      q.Word `key:"now" oneof:"kept,moved,new,cut,capped,empty" about:"what became of it"`
	Circuit  Ref    `key:"circuit" ref:"circuit" about:"circuit.x"`
	Gauge    q.Word `key:"gauge" size:"" about:"conductor size, where not the circuit's"`
	Function q.Word `key:"function" known:"pin function" about:"what the wire does: power, ground, signal, ..."`
	Color    q.Word `key:"color" color:"" about:"color of the wire now"`
	Mark     q.Word `key:"mark" about:"tag or sleeve that tells it from another of its color"`
	To       Ref    `key:"to" ref:"plug,splice,part,relay" pin:"" about:"where its wire ends: plug.x:pin, splice.x, part.x or relay.x"`
	ColorWas q.Word `key:"color-was" color:"" about:"color of the wire that was in it as received"`
	OtherEnd q.Word `key:"other-end" was:"rest" oneof:"capped,spliced,removed,loose" about:"what became of the rest of a wire that was cut off, or pulled out, here"`
}

// Plug is [plug.ID].
type Plug struct {
	Head
	Ways      q.Quantity     `key:"ways" exact:"" above-zero:"" about:"how many pins it has room for"`
	Opened    q.Truth        `key:"opened" default:"false" about:"pins were moved, added or taken out"`
	Mates     Ref            `key:"mates" ref:"plug" about:"plug.x it plugs into"`
	MountedOn Ref            `key:"mounted-on" was:"on" ref:"part" words:"" about:"part.x that carries it, or words"`
	Unused    []q.Word       `key:"unused" whole:"" alone:"all others" about:"ways that never had a wire, or have none now, as in [3, 5, 7]: each is taken as empty"`
	Pins      map[string]Pin `key:"pins" about:"pin by pin"`
}

// Splice is [splice.ID].
type Splice struct {
	Head
	Joins     []Ref  `key:"joins" ref:"plug,splice,part,relay" pin:"" about:"what it joins: pins, as plug.x:pin, or splice.x, part.x, relay.x"`
	How       q.Word `key:"how" about:"crimped, soldered, ..."`
	MountedOn q.Word `key:"mounted-on" was:"on" about:"where it is"`
}

// ShopInfo is [shop].
type ShopInfo struct {
	Head
	Name     q.Word     `key:"name" called:"" public:"" about:"what the shop is called"`
	Packs    []q.Word   `key:"packs" about:"the rule packs that apply"`
	Units    q.Word     `key:"units" oneof:"us,si" about:"units of display"`
	Currency q.Word     `key:"currency" commercial:"" about:"the code of ISO 4217 that money is in, such as USD"`
	Rate     q.Quantity `key:"rate" dim:"rate of pay" commercial:"" private:"" about:"what an hour in the shop costs, such as 95 USD/h"`
}

// HookupKind is [hookup.ID] in a shop: a kind of hookup that it adds.
type HookupKind struct {
	Head
	Compare   q.Word `key:"compare" oneof:"level,sum,equal,present" format:"" about:"how what is fed is held against what is needed"`
	Dimension q.Word `key:"dimension" format:"" about:"of its quantity, such as pressure"`
}

// OwnWord is [word.ID] in a shop: a word that it adds to a list.
type OwnWord struct {
	Head
	Of   q.Word `key:"of" format:"" about:"the list it is for: body, fluid, hose role, material, mounting, role or system"`
	Like q.Word `key:"like" format:"" about:"the known word that it is taken as; a system may be one of its own"`
}
