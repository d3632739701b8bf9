package ledger

import (
	"slices"
	"strings"
)

// SystemDefault is one row of the table of systems: which roles of parts,
// fluids and kinds of entry belong to a system of the vehicle where an entry
// does not say its own.
type SystemDefault struct {
	System               string
	Roles, Fluids, Kinds []string // sorted
}

// SystemDefaults is the table of systems, in the order in which screens and
// lists have them.
func SystemDefaults() []SystemDefault { return slices.Clone(systemDefaults) }

var systemDefaults = []SystemDefault{
	systemRow("engine", `belt belt-tensioner camshaft-sensor cold-start-aid crank-sensor damper engine engine-cover flex-plate
		flywheel glow-plug ignition oil-cooler oil-filter oil-pan oil-pump preheater block-heater pulley rocker-cover distributor`,
		`engine-oil`),
	systemRow("mounts", `adapter adapter-plate alternator-bracket bracket crossmember engine-mount mount transmission-mount`, ``),
	systemRow("air", `air-filter charge-air-cooler charge-air-hose intake-heater intake-manifold intercooler throttle-body turbocharger
		vacuum-pump vacuum-reservoir vacuum-switch`,
		`air charge-air crankcase-vapor vacuum`),
	systemRow("exhaust", `catalyst downpipe emission-gear exhaust exhaust-brake exhaust-manifold exhaust-pipe heat-shield muffler tail-pipe
		tailpipe urea-tank`,
		`exhaust urea-solution`),
	systemRow("cooling", `coolant-hose coolant-pump expansion-tank fan fan-clutch fan-shroud fluid-cooler lower-radiator-hose radiator
		radiator-cap thermostat water-pump`,
		`coolant`),
	systemRow("fuel", `carburetor evaporative-canister feed-pump fill-tank filler fuel-cooler fuel-filter fuel-heater fuel-line fuel-pump
		fuel-rail fuel-sender fuel-tank high-pressure-pump in-tank-pump injection-pump injector lift-pump shut-off-solenoid stop-solenoid 
		water-separator engine-stop `,
		`B100 B10 B15 B2 B20 B5 B7 biodiesel diesel E0 E10 E15 E85 ethanol fuel fuel-vapor gasoline kerosene propane vegetable-oil`),
	systemRow("electrical", `alternator battery body-harness coolant-gauge coolant-sender coolant-temperature-gauge dc-converter dynamo ecu
		engine-controller engine-harness boost-gauge transmission-gauge exhaust-gas-gauge fuel-gauge fuse-block gauge ground-cable harness horn ignition-switch inverter
		isolator oil-pressure-gauge oil-sender relay relay-block solenoid speed-sender speedometer starter starter-interlock starter-relay
		switch tachometer tachometer-sender temperature-sender vehicle-speed-sensor voltage-regulator back-up-switch neutral-switch`,
		``),
	systemRow("controls", `accelerator-cable cruise-control cruise-switch linkage pedal throttle-cable throttle-pedal throttle-sensor`, ``),
	systemRow("transmission", `bell-housing clutch clutch-cable clutch-master clutch-pedal clutch-switch kick-down-cable park-lock pto
		shift-cable shifter slave-cylinder torque-converter transmission transmission-controller transmission-cooler`,
		`clutch-fluid transmission-fluid`),
	systemRow("driveline", `axle-actuator carrier-bearing driveshaft transfer-case u-joint`, `gear-oil`),
	systemRow("axles", `axle-shaft front-axle front-differential hubs rear-axle rear-differential`, ``),
	systemRow("steering", `drag-link hydraulic-pump hydraulic-steering idler-arm pitman-arm power-steering-pump steering-box steering-column
		steering-coupler steering-damper steering-gear steering-rack steering-shaft tie-rod`,
		`hydraulic-oil power-steering-fluid`),
	systemRow("brakes", `air-compressor anti-lock-unit brake-booster brake-caliper brake-controller brake-drum brake-hose brake-line brake-pads
		brake-rotor brake-shoes hydraulic-booster manual-brakes master-cylinder parking-brake proportioning-valve stop-lamp-switch wheel-cylinder`,
		`brake-fluid compressed-air`),
	systemRow("suspension", `ball-joint bushing leaf-spring shackle shock-absorber spring spring-bushing suspension track-bar`, ``),
	systemRow("wheels", `tire wheel wheel-bearing`, ``),
	systemRow("body", `bed body-panel bumper frame hitch mirror skid-plate splash-shield washer-pump winch wiper-motor`,
		`washer-fluid`),
	systemRow("interior", `instrument-panel panel seat seat-belt trim water-tank`, `fresh-water waste-water water`),
	systemRow("lighting", `lamp`, ``),
	systemRow("climate", `air-conditioning-compressor air-conditioning-condenser blower cab-heater coolant-heater heater-control heater-core
		heater-hose heater-pump heater-valve `, `refrigerant`),
	systemRow("papers", ``, ``),
}

func systemRow(name, roles, fluids string) SystemDefault {
	row := SystemDefault{System: name, Roles: strings.Fields(roles), Fluids: strings.Fields(fluids)}
	slices.Sort(row.Roles)
	slices.Sort(row.Fluids)
	for _, k := range kinds {
		if k.System == name {
			row.Kinds = append(row.Kinds, k.Name)
		}
	}
	return row
}

// SystemNames are the systems that everyone has, in their order; a shop's own
// come after them.
func SystemNames() []string {
	var out []string
	for _, row := range systemDefaults {
		out = append(out, row.System)
	}
	return out
}

// The default systems by what a part is, and by what runs in something.
var systemOfRole, systemOfFluid = func() (roles, fluids map[string]string) {
	roles, fluids = map[string]string{}, map[string]string{}
	for _, row := range systemDefaults {
		for _, w := range row.Roles {
			roles[w] = row.System
		}
		for _, w := range row.Fluids {
			fluids[w] = row.System
		}
	}
	return roles, fluids
}()

// System is the system of the vehicle that an entry belongs to: the one that
// it says; else that of its role or of what runs in it; else that of the first
// entry that it names and that has one; else that of its kind. "" where nothing
// tells.
func (b *Build) System(e *Entry) string { return b.systemOf(e, 0, trail{}) }

// furthest is how many entries are followed, one from the other.
const furthest = 8

// trail is which entries were followed, and how far on at the least: they may name
// each other in a ring, or each all of the others.
type trail map[*Entry]int

// ends tells that to follow an entry leads to nothing new.
func (t trail) ends(e *Entry, depth int) bool {
	if e == nil || depth > furthest {
		return true
	}
	was, followed := t[e]
	return followed && was <= depth
}

func (b *Build) systemOf(e *Entry, depth int, t trail) string {
	if t.ends(e, depth) {
		return ""
	}
	if e.system.Known() {
		return e.system.String()
	}
	if s := e.schema.System; e.schema.Single || s != "" {
		return s
	}
	switch v := e.view.(type) {
	case *Part:
		return systemOfRole[v.Role.String()]
	case *Hose:
		if s := systemOfFluid[v.Carries.String()]; s != "" {
			return s
		}
	case *Tank:
		return systemOfFluid[v.Fluid.Or(v.FluidWas.String()).String()]
	case *Loop:
		return systemOfFluid[v.Carries.String()]
	}
	t[e] = depth
	for _, r := range e.refs {
		if s := b.systemOf(b.EntryOf(r.to), depth+1, t); s != "" {
			return s
		}
	}
	return ""
}

// bySystem compares two systems by their order; what is on no list comes
// after, and what has none last.
func bySystem(a, b string) int {
	names := SystemNames()
	rank := func(s string) int {
		switch i := slices.Index(names, s); {
		case i >= 0:
			return i
		case s == "":
			return len(names) + 1
		}
		return len(names)
	}
	if d := rank(a) - rank(b); d != 0 {
		return d
	}
	return strings.Compare(a, b)
}

// BySystem sorts entries by system, in the order of the systems, and by path.
func (b *Build) BySystem(list []*Entry) {
	slices.SortStableFunc(list, func(e, f *Entry) int {
		if d := bySystem(b.System(e), b.System(f)); d != 0 {
			return d
		}
		return strings.Compare(e.Path(), f.Path())
	})
}

// Systems sorts the names of systems in their order, each once.
func Systems(names []string) []string {
	names = slices.Clone(names)
	slices.SortFunc(names, bySystem)
	return slices.Compact(names)
}
