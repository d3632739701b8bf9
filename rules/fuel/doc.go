// Package fuel checks what a swap asks of the fuel system: that nothing the
// fuel touches suffers by it, that hoses are made for it, that the filler
// takes the right nozzle, that what the old fuel left behind is accounted for,
// and that the supply line feeds the pump when it is coldest.
//
// Materials. The matrix is taken cell by cell: a cell that a publication read
// here confirms carries that publication, every other one is marked "from
// memory" and the mark is in the check's reason. "Not recommended" is a must
// that fails, also from memory; "caution" is a should that fails; "unknown",
// a material without a row and a fuel without a column are missing. "diesel" is
// what a pump sells under ASTM D975, which may hold 5 % biodiesel without
// saying so; it is judged as B5. "gasoline" is E10. B6 to B20 are judged as B20
// (ASTM D7467). A word that stands for several compounds ("fkm") takes the one
// that fares worse; words that can mean anything ("rubber", "nylon") have no
// row. What is judged: every [wetted.x], and every [hose.x] that carries "fuel"
// or a fuel by name, rigid tube included. A hose that does not say what it
// carries is asked.
//
// Hoses. The maker's ratings come first. Without them the SAE J30 type
// speaks: of fuel, by its scope (read), where a type other than 13 is none for
// biodiesel blends and says nothing of plain diesel, so that the maker's word is
// missing; of pressure and temperature by figures in common use (from memory,
// small bores only), and then the check is a should. A hose that lies in the
// fuel needs the maker's word for both. Metal tube is no hose: only what its
// maker rates is checked.
//
// Diesel. A build burns diesel where its engine does or where it carries a
// diesel fuel. Filler, left-overs and needs are work, due at the first start;
// before that they are missing, not failed. "Needs none" of a return line is
// `return-line = "not needed"`, and fails where a fitted part needs a fuel-return.
//
// Line loss. Darcy-Weisbach friction in the hoses and tubes that carry fuel and
// lead, by their from and to, from a tank to the first pump, whatever role they
// say, in a row, each at its own bore, length and flow; of several tanks the worst.
// A [test.x] of kind fuel-supply, a gauge at the pump's inlet, goes in its place.
// Viscosity as the ledger states it for the coldest; density the heaviest of the
// fuels carried at 60 °F (cold fuel is a few per cent denser). Below Re 2000 the flow
// is laminar, from 4000 turbulent; between them it may be either, and the loss is an
// interval from the laminar to the turbulent figure at the same Re, shown at the
// turbulent one. A Reynolds number whose own
// doubt straddles an end takes the hull of what it may be on either side. Left
// out: filter, separator, fittings, bends and lift, which must be taken off
// what the pump allows. Limit, viscosity and flow are held against what makers
// allow, what the standard has and what the engine burns.
//
// Return. The same sum over what leads from the pump back to the tank, against the
// engine's limit; without one, no narrower and no longer than on the vehicle that
// the engine comes from; with neither, one of them is asked for as a should.
package fuel
