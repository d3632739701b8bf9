// Package street is the rule pack on what a road authority looks at: the
// engine's year and duty, emission gear, lamp heights, mirrors, seat belts,
// covered tires and auxiliary lamps.
//
// Nothing here says what may be driven where. A rule says what a text asks,
// which text, and whether it was read or is from memory; state and local codes
// differ, and they decide. The federal texts bind makers, dealers and repair
// businesses; what they ask of an owner's own vehicle is the local code's to
// say.
//
// How the texts are taken:
//
//   - engine-year. The fact sheet asks a light-duty chassis for an engine of its
//     own model year or newer: a must, for that was read. Of a heavy-duty one
//     its paragraph, from memory, asks no such thing; California does, from
//     memory: a should.
//   - engine-duty. Both duties are the same, and the chassis' agrees with the
//     8,500 lb that part the two (all from memory: shoulds). A heavy truck's
//     diesel in a half-ton raises a question, and not a pass.
//   - emission-gear. Each piece that the old engine or the new one usually has
//     is accounted for by an [emission.x]; what is not kept has a document. That
//     the finished configuration is a certified one no ledger can prove.
//   - lamp-heights. A headlamp's was read: a must, and the ledger has one. The
//     others are judged where they are written, as shoulds. Lamps that a vehicle
//     80 in wide and over wears along its roof have no fixed height.
//   - mirrors. Flat outside mirrors on both sides (from memory: a should). The
//     same text lets a vehicle up to 10,000 lb wear a passenger car's mirrors
//     instead, which is left out.
//   - belts. A re-webbed belt has a certificate of who did it. What is not in
//     the ledger was not touched.
//   - tire-cover. By the tape where the ledger has fender-cover; else from what
//     there was as received, less what track and section width added. Where that
//     was not measured either, 0 to 2 in are assumed: a tire that moved in
//     passes, one that moved out waits for the tape. Whether the whole tire has
//     to be covered or its tread, and from what angle, is the local code's.
//   - auxiliary-lamps. What switched-with says names no road lamp. Codes that
//     want driving lamps to go out with the high beam ask for more.
//
// Left out: bumper and frame heights, glazing, noise, windscreen wipers, and
// whatever a state's inspection asks besides.
package street
