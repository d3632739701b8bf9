package ledger

import q "fishplate/ledger/quantity"

// The views below are what rules read. Their tags are the schema (package
// schema); a kind of entry is listed in kinds.go.
//
// Of any key:
//
//	key      the key in the ledger
//	about    what it is, for help and messages
//	was      what it was called before; that is an error which names the key
//	default  what absence means by the format
//	private  left out of what is public, and of all that is not the shop's own or for those who must know whose it is
//	public   part of what is public: "" in any case, "chosen" where its entry says
//	         public = true; what has no such tag is left out
//	commercial       what was paid and to whom: no part of what is signed
//	customer         commercial, and still the customer's to see
//	undigested       no part of what is signed for another reason
//	of-this-vehicle  a reading, a rating or a number of this very vehicle, which
//	         a copy of the build must not inherit; all dates are, save the last
//	         day of something
//	unless   another key that says the same another way
//	moves    its part in what was read between two things, one of which may
//	         move: "end", "reading", "before", "date" or "along"
//	format   read where files are read, and by no rule
//
// Of a quantity:
//
//	dim      its dimension ("any" where the entry decides)
//	unit     the units that a shop writes it in, where not those of its dimension
//	signed   it may be negative, as temperatures, angles and places may; no other may
//	above-zero, within, choices  what else it must be ("0 to 1", "2,4")
//	exact    a certified rating, a limit or a count: it has no tolerance
//	lever    a shop can change it to make a check pass: to no less and no more
//	         than these shares of it ("0.5 to 3"; "" for 0 to 3), or to anywhere
//	         ("position", which a place is by itself)
//
// Of a word:
//
//	oneof    the words that it may be
//	known    the list of known words that it is from
//	size     a conductor size
//	color    a color
//	whole    it may be written as a whole number
//	alone    of a list: the one word that may stand in its place
//	free     sentences for people; a name in them is no reference
//	called   what people call the entry
//	sum      a digest, which nobody looks for by sight
//
// Of a reference, a place, a table or a date:
//
//	ref      the kinds of entry that it may name; "any" for all
//	words    it may also be free words
//	pin      it names a pin of a plug, "plug.x:4"
//	like     it names the entry from which this one takes what it does not say
//	names    the kind of entry that the keys of the table name
//	between  one of the two things that the entry goes between
//	level    the hookups are what is given, and not what is needed
//	else     the place that this one is the same as, where it is left out
//	past     it has happened: no day that is still to come (ledger/read)
//	ends     the last day on which something holds
//
// Of what a part needs (Hookup):
//
//	measures how the hookups are compared whose need it states: "level"
//
// Any entry may also have a note, in free words, which no rule reads, a system
// (system.go), and public = true, by which what is chosen of it is public.

// BuildInfo is [build].
type BuildInfo struct {
	Head
	From      q.Word     `key:"from" about:"the build that it was begun from"`
	Title     q.Word     `key:"title" public:"chosen" about:"what the shop calls the build"`
	Stage     q.Word     `key:"stage" oneof:"intake,plan,mock-up,assembly,first-start,road-test,delivery" undigested:"" of-this-vehicle:"" public:"" about:"how far the build has come"`
	Packs     []q.Word   `key:"packs" undigested:"" about:"the rule packs that apply; all where it is left out"`
	Units     q.Word     `key:"units" oneof:"us,si" public:"" about:"units of display"`
	Quoted    q.Quantity `key:"quoted" dim:"sum of money" commercial:"" private:"" of-this-vehicle:"" customer:"" about:"what the customer was quoted"`
	Delivered Date       `key:"delivered" undigested:"" about:"the day it was handed over; it is judged as of that day"`
}

// Owner is [owner], which is always private.
type Owner struct {
	Head
	Name    q.Word `key:"name" private:"" about:"the owner's name"`
	Contact q.Word `key:"contact" private:"" about:"how to reach the owner"`
}

// Vehicle is [vehicle], as its maker certified it.
type Vehicle struct {
	Head
	Make           q.Word     `key:"make" public:"" about:"who built it"`
	Model          q.Word     `key:"model" public:"" about:"the maker's name for it"`
	Year           q.Quantity `key:"year" exact:"" within:"1900 to 2100" public:"" about:"model year"`
	VIN            q.Word     `key:"vin" private:"" of-this-vehicle:"" about:"vehicle identification number"`
	Body           q.Word     `key:"body" known:"body" public:"" about:"body style"`
	Drive          q.Word     `key:"drive" oneof:"rear,front,four-wheel,all-wheel" public:"" about:"driven wheels"`
	Fuel           q.Word     `key:"fuel" oneof:"gasoline,diesel,propane,electric" public:"" about:"the fuel that the maker built it for"`
	Duty           q.Word     `key:"duty" oneof:"light,heavy" public:"" about:"light or heavy duty, as certified"`
	Seats          q.Quantity `key:"seats" exact:"" above-zero:"" public:"" about:"designated seating positions"`
	Wheelbase      q.Quantity `key:"wheelbase" dim:"length" above-zero:"" public:"" about:"front axle line to rear axle line"`
	GrossRating    q.Quantity `key:"gross-rating" dim:"mass" exact:"" above-zero:"" of-this-vehicle:"" public:"" about:"certified gross vehicle weight rating"`
	CombinedRating q.Quantity `key:"combined-rating" dim:"mass" exact:"" above-zero:"" of-this-vehicle:"" public:"" about:"gross combined weight rating"`
	RoofRating     q.Quantity `key:"roof-rating" dim:"mass" exact:"" of-this-vehicle:"" public:"" about:"what the roof may carry"`
	CGHeight       q.Quantity `key:"cg-height" dim:"length" above-zero:"" of-this-vehicle:"" public:"" about:"height of the center of gravity as received"`
	Height         q.Quantity `key:"height" dim:"length" above-zero:"" of-this-vehicle:"" public:"" about:"overall height"`
	TopSpeed       q.Quantity `key:"top-speed" dim:"speed" exact:"" above-zero:"" public:"" about:"the highest speed it will be driven at"`
	Spare          Ref        `key:"spare" ref:"tire" about:"the tire of the spare"`
	SeatsAt        Spot       `key:"seats-at" about:"middle of all seats together, where people sit"`
	CargoAt        Spot       `key:"cargo-at" about:"middle of the bed or load space"`
}

// Axle is [vehicle.front] or [vehicle.rear].
type Axle struct {
	Head
	Rating        q.Quantity `key:"rating" dim:"mass" exact:"" above-zero:"" of-this-vehicle:"" public:"" about:"certified gross axle weight rating"`
	Track         q.Quantity `key:"track" dim:"length" above-zero:"" of-this-vehicle:"" public:"" about:"track width now"`
	TrackWas      q.Quantity `key:"track-was" dim:"length" above-zero:"" of-this-vehicle:"" public:"" about:"track width as received, if another"`
	Tire          Ref        `key:"tire" ref:"tire" about:"the tires that are on it now"`
	TireWas       Ref        `key:"tire-was" ref:"tire" about:"the tires as received, if others"`
	TireFitted    Date       `key:"tire-fitted-on" about:"when other tires than as received went on"`
	Wheel         Ref        `key:"wheel" ref:"wheel" about:"the wheels that are on it now"`
	Tires         q.Quantity `key:"tires" exact:"" default:"2" choices:"2,4" public:"" about:"how many tires: 2, or 4 for duals"`
	SpringRate    q.Quantity `key:"spring-rate" dim:"spring-rate" above-zero:"" public:"" about:"at one wheel"`
	SpringRateWas q.Quantity `key:"spring-rate-was" dim:"spring-rate" above-zero:"" public:"" about:"at one wheel, as received, if other springs"`
	RideChange    q.Quantity `key:"ride-change-limit" dim:"length" exact:"" about:"how far ride height may change"`
	RideChanged   q.Quantity `key:"ride-change" dim:"length" signed:"" of-this-vehicle:"" about:"how far ride height changed, measured; down is positive"`
	SpringsFitted Date       `key:"springs-fitted-on" about:"when other springs went on, or the ride height was set"`
	BumpTravel    q.Quantity `key:"bump-travel" dim:"length" of-this-vehicle:"" about:"how far the axle comes up from ride height to its stop"`
	FinalDrive    q.Quantity `key:"final-drive" above-zero:"" public:"" about:"axle ratio now"`
	FinalDriveWas q.Quantity `key:"final-drive-was" above-zero:"" public:"" about:"axle ratio as received, if another"`
	TorqueRating  q.Quantity `key:"torque-rating" dim:"torque" exact:"" above-zero:"" public:"" about:"continuous or rated torque at the axle's output"`
	BrakeTorque   q.Quantity `key:"brake-torque" dim:"torque" above-zero:"" about:"brake torque of the axle at the same line pressure"`
	Cover         q.Quantity `key:"fender-cover" dim:"length" lever:"" signed:"" of-this-vehicle:"" about:"how far the body stands out past the tire now, each side"`
	CoverWas      q.Quantity `key:"fender-cover-was" dim:"length" signed:"" of-this-vehicle:"" about:"the same as received"`
}

// Weighing is [weighing.ID].
type Weighing struct {
	Head
	When       q.Word                `key:"when" oneof:"as-received,as-built" public:"" about:"which weighing this is"`
	Front      q.Quantity            `key:"front" dim:"mass" above-zero:"" moves:"reading" public:"" about:"scale reading under the front axle"`
	Rear       q.Quantity            `key:"rear" dim:"mass" above-zero:"" moves:"reading" public:"" about:"scale reading under the rear axle"`
	FrontLeft  q.Quantity            `key:"front-left" dim:"mass" above-zero:"" public:"" about:"scale reading under the left front wheel, where the sides were weighed"`
	FrontRight q.Quantity            `key:"front-right" dim:"mass" above-zero:"" public:"" about:"the same, right front"`
	RearLeft   q.Quantity            `key:"rear-left" dim:"mass" above-zero:"" public:"" about:"the same, left rear"`
	RearRight  q.Quantity            `key:"rear-right" dim:"mass" above-zero:"" public:"" about:"the same, right rear"`
	Aboard     []Ref                 `key:"aboard" ref:"load" about:"loads on board when it was weighed"`
	Levels     map[string]q.Quantity `key:"levels" within:"0 to 1" names:"tank" about:"how full each tank.x was, 0 to 1"`
	Date       Date                  `key:"date" was:"on" past:"" moves:"date" about:"date"`
	Document   Ref                   `key:"document" ref:"document" about:"the ticket"`
}

// Donor is [donor.ID].
type Donor struct {
	Head
	Make     q.Word     `key:"make" public:"" about:"who built it"`
	Model    q.Word     `key:"model" public:"" about:"the maker's name for it"`
	Year     q.Quantity `key:"year" exact:"" within:"1900 to 2100" public:"" about:"model year"`
	VIN      q.Word     `key:"vin" private:"" of-this-vehicle:"" about:"vehicle identification number"`
	Fuel     q.Word     `key:"fuel" oneof:"gasoline,diesel,propane,electric" public:"" about:"its fuel"`
	Duty     q.Word     `key:"duty" oneof:"light,heavy" public:"" about:"light or heavy duty, as certified"`
	Odometer q.Quantity `key:"odometer" dim:"length" unit:"mi or km" of-this-vehicle:"" about:"distance run"`
}

// Engine is [engine], and [engine-was] the one that came out.
type Engine struct {
	Head
	Part         Ref        `key:"part" ref:"part" public:"" about:"part.x"`
	Year         q.Quantity `key:"year" exact:"" within:"1900 to 2100" public:"" about:"model year it was certified for"`
	Fuel         q.Word     `key:"fuel" oneof:"gasoline,diesel,propane,electric" public:"" about:"what it burns"`
	Duty         q.Word     `key:"duty" oneof:"light,heavy" public:"" about:"light or heavy duty, as certified"`
	Displacement q.Quantity `key:"displacement" dim:"volume" above-zero:"" unit:"in3 or L" public:"" about:"swept volume"`
	Cylinders    q.Quantity `key:"cylinders" exact:"" above-zero:"" public:"" about:"how many"`
	Idle         q.Quantity `key:"idle" dim:"speed-of-rotation" above-zero:"" public:"" about:"idle speed"`
	CruiseLimit  q.Quantity `key:"cruise-limit" dim:"speed-of-rotation" exact:"" above-zero:"" public:"" about:"the highest speed it should be held at"`
	Governed     q.Quantity `key:"governed" dim:"speed-of-rotation" above-zero:"" public:"" about:"governed speed"`
	PeakTorque   q.Quantity `key:"peak-torque" dim:"torque" above-zero:"" public:"" about:"greatest torque"`
	PeakTorqueAt q.Quantity `key:"peak-torque-at" dim:"speed-of-rotation" above-zero:"" public:"" about:"speed of the greatest torque"`
	RatedPower   q.Quantity `key:"rated-power" dim:"power" above-zero:"" public:"" about:"rated power"`
	RatedPowerAt q.Quantity `key:"rated-power-at" dim:"speed-of-rotation" above-zero:"" public:"" about:"speed of the rated power"`
	Boost        q.Quantity `key:"boost" dim:"pressure" public:"" about:"boost at rated power"`
	VolEff       q.Quantity `key:"volumetric-efficiency" within:"0 to 1.5" about:"volumetric efficiency"`
	CompEff      q.Quantity `key:"compressor-efficiency" within:"0 to 1" about:"compressor efficiency"`
	Rock         q.Quantity `key:"rock" dim:"angle" about:"what the mounts let it roll, to one side"`
	CrankHeight  q.Quantity `key:"crank-height" dim:"length" lever:"" above-zero:"" about:"crankshaft line above ground"`
	CrankPulley  q.Quantity `key:"crank-pulley" dim:"length" above-zero:"" about:"pitch diameter of the crankshaft pulley that drives the belt"`
	MountSpacing q.Quantity `key:"mount-spacing" dim:"length" above-zero:"" about:"across, from one engine mount to the other"`
	MountRating  q.Quantity `key:"mount-rating" dim:"force" exact:"" above-zero:"" about:"load that one engine mount is rated for"`
	Throttled    q.Truth    `key:"intake-throttle" default:"false" about:"a diesel that has a throttle in its intake"`
}

// Made says how a part was made in the shop.
type Made struct {
	Material q.Word `key:"material" public:"" about:"what it is made of"`
	Process  q.Word `key:"process" public:"" about:"how"`
	Drawing  Ref    `key:"drawing" ref:"document" about:"a drawing or photo of it"`
	By       q.Word `key:"by" about:"who made it"`
}

// Part is [part.ID].
type Part struct {
	Head
	Name      q.Word            `key:"name" called:"" public:"" about:"what people call it"`
	Role      q.Word            `key:"role" known:"role" public:"" about:"the trade's word for what it is, such as alternator"`
	Origin    q.Word            `key:"origin" oneof:"original,donor,bought,made" public:"" about:"where it comes from"`
	Donor     Ref               `key:"donor" ref:"donor" public:"" about:"the vehicle that it came out of"`
	Made      Made              `key:"made" public:"" about:"how it was made"`
	Supplier  q.Word            `key:"supplier" commercial:"" about:"who sold it"`
	Change    q.Word            `key:"change" public:"chosen" about:"what was altered"`
	Fitted    q.Truth           `key:"fitted" default:"true" public:"" about:"whether the finished vehicle carries it"`
	Count     q.Quantity        `key:"count" exact:"" default:"1" public:"" about:"how many"`
	Mass      q.Quantity        `key:"mass" dim:"mass" lever:"0.5 to 1.5" public:"" about:"of one"`
	MassWas   q.Quantity        `key:"mass-was" was:"mass-before" dim:"mass" public:"" about:"of one, before it was altered"`
	CountedIn Ref               `key:"counted-in" ref:"part" public:"" about:"part.x whose mass this one's is part of"`
	At        Spot              `key:"at" lever:"" public:"" about:"where it sits now"`
	WasAt     Spot              `key:"was-at" else:"at" public:"" about:"where it sat before the work, if elsewhere"`
	Moved     Date              `key:"moved" about:"date of its own move from was-at, where not that of what it hangs on"`
	Corrected Date              `key:"corrected" about:"when its place was put right in the ledger, and it did not move"`
	MountedOn q.Word            `key:"mounted-on" was:"on" default:"inside" known:"mounting" about:"a place such as roof"`
	Needs     map[string]Hookup `key:"needs" about:"what it must be fed"`
	Gives     map[string]Hookup `key:"gives" level:"" about:"what it supplies"`
	Wears     q.Truth           `key:"wears" default:"false" public:"" about:"the next owner will have to buy it"`
	OrderAs   q.Word            `key:"order-as" public:"" about:"what to ask for at a parts counter"`
	Price     q.Quantity        `key:"price" was:"cost" dim:"sum of money" commercial:"" private:"" about:"what one costs: 120 USD, or ~120 USD"`
	Ordered   Date              `key:"ordered" commercial:"" about:"when it was ordered"`
	Arrived   Date              `key:"arrived" past:"" about:"when it came in"`
	FittedOn  Date              `key:"fitted-on" about:"when it went on, if after a weighing"`
	RemovedOn Date              `key:"removed-on" about:"when it came off, if after a weighing"`
	Fate      q.Word            `key:"fate" oneof:"kept,sold,scrapped,returned,refused" of-this-vehicle:"" about:"what became of a part that is not fitted"`
	SoldFor   q.Quantity        `key:"sold-for" dim:"sum of money" commercial:"" private:"" of-this-vehicle:"" about:"what it was sold for, all of them together"`
	Why       q.Word            `key:"why" free:"" public:"chosen" about:"why this one"`
}

// Assembly is [assembly.ID].
type Assembly struct {
	Head
	Datum      q.Word `key:"datum" about:"the point it is placed by"`
	At         Spot   `key:"at" lever:"" public:"" about:"where the datum is now"`
	WasAt      Spot   `key:"was-at" else:"at" public:"" about:"where the datum was before the work"`
	MeasuredAt Spot   `key:"measured-at" was:"taped-at" else:"at" of-this-vehicle:"" about:"where it stood when the gaps hung on it were measured, if not at"`
	Moved      Date   `key:"moved" was:"on" about:"date of the move"`
	Corrected  Date   `key:"corrected" about:"when its place was put right in the ledger, and it did not move"`
}

// Load is [load.ID].
type Load struct {
	Head
	Mass      q.Quantity `key:"mass" dim:"mass" lever:"0.5 to 1.5" about:"of one"`
	Count     q.Quantity `key:"count" exact:"" default:"1" about:"how many"`
	At        Spot       `key:"at" lever:"" about:"where it rides"`
	MountedOn q.Word     `key:"mounted-on" was:"on" default:"inside" known:"mounting" about:"a place such as roof"`
}

// Tank is [tank.ID].
type Tank struct {
	Head
	Fluid       q.Word     `key:"fluid" known:"fluid" public:"" about:"what is in it now"`
	FluidWas    q.Word     `key:"fluid-was" known:"fluid" public:"" about:"what was in it as received, if something else"`
	Capacity    q.Quantity `key:"capacity" dim:"volume" lever:"" public:"" about:"usable volume now; 0 for a tank that came off"`
	CapacityWas q.Quantity `key:"capacity-was" dim:"volume" public:"" about:"as received, if another; 0 for a tank that was not there"`
	At          Spot       `key:"at" lever:"" public:"" about:"middle of the fluid now"`
	WasAt       Spot       `key:"was-at" else:"at" public:"" about:"as received, if elsewhere"`
}

// Tire is [tire.ID].
type Tire struct {
	Head
	Size           q.Word     `key:"size" public:"" about:"the size marking"`
	Service        q.Word     `key:"service" oneof:"light-truck,passenger" public:"" about:"what it is made for"`
	LoadIndex      q.Quantity `key:"load-index" exact:"" above-zero:"" public:"" about:"load index, single fitment"`
	LoadRating     q.Quantity `key:"load-rating" dim:"mass" exact:"" above-zero:"" public:"" about:"maximum load, single fitment"`
	LoadDual       q.Quantity `key:"load-rating-dual" dim:"mass" exact:"" above-zero:"" public:"" about:"maximum load, dual fitment"`
	SpeedSymbol    q.Word     `key:"speed-symbol" public:"" about:"speed symbol"`
	Pressure       q.Quantity `key:"pressure" dim:"pressure" above-zero:"" public:"" about:"cold inflation"`
	MaxPressure    q.Quantity `key:"max-pressure" dim:"pressure" exact:"" above-zero:"" public:"" about:"cold inflation that the load rating is for, off the sidewall"`
	LoadAtPressure q.Quantity `key:"load-at-pressure" dim:"mass" exact:"" above-zero:"" about:"load at the pressure written, from the tire maker's table, as fitted"`
	Diameter       q.Quantity `key:"diameter" dim:"length" above-zero:"" public:"" about:"measured or catalog diameter"`
	RevsPerMile    q.Quantity `key:"revs-per-mile" dim:"revolutions-a-distance" above-zero:"" public:"" about:"measured, as in \"631 rev/mi\""`
	SectionWidth   q.Quantity `key:"section-width" dim:"length" above-zero:"" public:"" about:"section width"`
}

// Wheel is [wheel.ID].
type Wheel struct {
	Head
	LoadRating q.Quantity `key:"load-rating" dim:"mass" exact:"" above-zero:"" public:"" about:"maximum load of one"`
}

// Gap is [gap.ID].
type Gap struct {
	Head
	Between    []Ref      `key:"between" ref:"part" words:"" moves:"end" public:"chosen" about:"the two things: part.x or words"`
	Kind       q.Word     `key:"kind" oneof:"fan-to-core,fan-to-shroud,belt-to-fixed,shaft-to-fixed,engine-to-body,engine-to-hood,pan-to-axle,tire-to-body,steering-to-fixed,exhaust-to-fuel,exhaust-to-brake-line,exhaust-to-wiring,exhaust-to-floor,exhaust-to-rubber,hose-to-sharp,line-to-moving,filter-access,fill-access" public:"chosen" about:"what kind of gap"`
	Measured   q.Quantity `key:"measured" dim:"length" moves:"reading" of-this-vehicle:"" public:"chosen" about:"the tape's reading"`
	BeforeMove q.Truth    `key:"before-move" default:"false" moves:"before" of-this-vehicle:"" about:"measured before the assembly moved"`
	Along      q.Word     `key:"along" moves:"along" oneof:"back,right,up,-back,-right,-up" public:"chosen" about:"which way it runs, from the first to the second"`
	Relief     q.Quantity `key:"relief" dim:"length" lever:"" default:"0 in" of-this-vehicle:"" public:"chosen" about:"room made since by cutting or dimpling"`
	Motion     q.Quantity `key:"motion" dim:"length" of-this-vehicle:"" public:"chosen" about:"how far the two come together in use"`
	Least      q.Quantity `key:"least" dim:"length" exact:"" public:"chosen" about:"a limit tighter than the kind's"`
	Shielded   q.Truth    `key:"shielded" default:"false" public:"chosen" about:"a heat shield stands between"`
	Read       Date       `key:"read" was:"on" past:"" moves:"date" about:"date of the reading"`
}

// Zone is [zone.ID].
type Zone struct {
	Head
	Temperature q.Quantity `key:"temperature" dim:"temperature" about:"the hottest it gets"`
	EngineSpace q.Truth    `key:"engine-space" default:"false" about:"it is in the engine space"`
}

// Circuit is [circuit.ID].
type Circuit struct {
	Head
	Like             Ref        `key:"like" ref:"circuit" like:"" about:"circuit.x it takes from what it does not say"`
	From             Ref        `key:"from" ref:"part,relay,circuit" public:"chosen" between:"" about:"what feeds it: part.x, relay.x or circuit.x"`
	To               []Ref      `key:"to" ref:"part,relay,circuit" public:"chosen" between:"" about:"what it feeds"`
	Load             q.Quantity `key:"load" dim:"current" unless:"power" public:"chosen" about:"its own current"`
	Power            q.Quantity `key:"power" dim:"power" unit:"W" unless:"load" public:"chosen" about:"its own power, in place of load"`
	Duty             q.Word     `key:"duty" oneof:"continuous,intermittent,momentary,cranking,signal,ground" public:"chosen" about:"how it is used"`
	Gauge            q.Word     `key:"gauge" size:"" public:"chosen" about:"conductor size, such as 12 AWG or 3 mm2"`
	Insulation       q.Word     `key:"insulation" public:"chosen" about:"SAE type such as GXL, or a temperature"`
	Length           q.Quantity `key:"length" dim:"length" lever:"0.5 to 3" unit:"ft or m" public:"chosen" about:"one way"`
	Return           q.Word     `key:"return" oneof:"wire,chassis" public:"chosen" about:"how the current comes back"`
	ReturnLength     q.Quantity `key:"return-length" dim:"length" lever:"0.5 to 3" unit:"ft or m" about:"of the return wire, where it differs"`
	ReturnResistance q.Quantity `key:"return-resistance" dim:"resistance" unit:"mohm" of-this-vehicle:"" about:"of the chassis return, where measured"`
	Fuse             q.Quantity `key:"fuse" dim:"current" exact:"" above-zero:"" unless:"breaker" public:"chosen" about:"fuse rating"`
	Breaker          q.Quantity `key:"breaker" dim:"current" exact:"" above-zero:"" unless:"fuse" public:"chosen" about:"breaker rating"`
	FuseFromSource   q.Quantity `key:"fuse-from-source" dim:"length" lever:"" about:"unfused length from the source"`
	Sheathed         q.Truth    `key:"sheathed" default:"false" about:"the unfused length is sheathed"`
	FuseZone         Ref        `key:"fuse-zone" ref:"zone" about:"zone.x that the fuse sits in, where it is not the wire's"`
	OnTime           q.Quantity `key:"on-time" dim:"time" unit:"s or min" above-zero:"" about:"how long a momentary load is on at most"`
	OffTime          q.Quantity `key:"off-time" dim:"time" unit:"s or min" above-zero:"" about:"how long it then is off at least"`
	Relay            Ref        `key:"relay" ref:"relay" public:"chosen" about:"relay.x that switches it"`
	SwitchRating     q.Quantity `key:"switch-rating" dim:"current" exact:"" above-zero:"" about:"of the switch in it"`
	FaultCurrent     q.Quantity `key:"fault-current" dim:"current" about:"prospective short-circuit current"`
	ClearingTime     q.Quantity `key:"clearing-time" dim:"time" unit:"s or ms" about:"how soon its fuse clears that"`
	Zone             Ref        `key:"zone" ref:"zone" about:"zone.x it runs through, the hottest"`
	Critical         q.Truth    `key:"critical" default:"false" about:"something dangerous fails with it"`
	Bundle           q.Quantity `key:"bundle" exact:"" above-zero:"" about:"how many current-carrying wires run together"`
	DropLimit        q.Quantity `key:"drop-limit" exact:"" within:"0 to 1" about:"voltage drop allowed, such as 3 %"`
	Color            q.Word     `key:"color" color:"" public:"chosen" about:"color of the wire"`
}

// Relay is [relay.ID].
type Relay struct {
	Head
	ContactRating q.Quantity `key:"contact-rating" dim:"current" exact:"" above-zero:"" about:"of its contacts"`
	Coil          Ref        `key:"coil" ref:"circuit" about:"circuit.x that works it"`
}

// Supply is [supply].
type Supply struct {
	Head
	Voltage          q.Quantity `key:"voltage" dim:"voltage" exact:"" above-zero:"" public:"" about:"system voltage"`
	AlternatorCruise q.Quantity `key:"alternator-cruise" dim:"current" public:"" about:"output at cruise, hot"`
	AlternatorIdle   q.Quantity `key:"alternator-idle" dim:"current" public:"" about:"output at idle, hot"`
	BatteryCCA       q.Quantity `key:"battery-cca" dim:"current" exact:"" above-zero:"" public:"" about:"cold cranking amps (SAE J537)"`
	StarterCurrent   q.Quantity `key:"starter-current" dim:"current" public:"" about:"what the starter draws, cold"`
}
