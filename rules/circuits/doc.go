// Package circuits reckons what packs share about a build's wiring: which
// circuit feeds which, what current and what drop each has, which fuse protects
// it, and what its conductor is and may carry. It holds no limits and judges
// nothing; the wiring pack's documentation says what is taken where the ledger
// leaves room.
package circuits
