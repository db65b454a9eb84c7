// SPDX-License-Identifier: Apache-2.0

package carry

// The numbers of this package that were set by hand: unit, meaning, how each
// was found, and what doubling it does, measured or reasoned.

// Pieces that step aside.
const (
	// detourSquares is what one piece stepping aside counts as, in squares of way:
	// longer than any way on the board, so fewest pieces first. Doubled, nothing
	// changes (reasoned: it is beyond every way already).
	detourSquares = 60
	// asideSets and asidePlaces bound the search for parking places: how many sets
	// of pieces are tried, and how many places in all. Measured: of ten thousand
	// positions that need it nearly all are solved by the first set. Doubled, a
	// position that has no way out takes twice as long to be asked for (reasoned).
	asideSets   = 4
	asidePlaces = 24
	// asideRays is how many directions each ring of places has: 16 of the widest
	// ring are three quarters of a square apart. Doubled, more places, tried in the
	// same number (reasoned).
	asideRays = 16
)

// entryMargin is how far inside of what plans keep to a machine just homed goes, m: more
// than whole counts and the errors of homing leave open. Doubled, nothing changes.
const entryMargin = 1e-3

// Taking up the backlash.
const (
	// takeUp is the stretch of way over which the play is taken up, metres: 0.4 mm
	// over 6 mm bends the path by 4 degrees, which costs no speed. Doubled, the
	// piece is off its path for twice as long at each turn (reasoned).
	takeUp = 6e-3
	// stillness is the motion below which an axis counts as standing, metres: a
	// tenth of a step of any motor here. Doubled, nothing changes (reasoned).
	stillness = 1e-7
)

// Distances.
const (
	// doubts is how many standard deviations of a measured place count: two, so
	// that of a hundred pieces two stand a little further out, and even those are
	// then within the placement and lag allowances. Doubled, lanes beside badly
	// measured pieces close and more is asked (reasoned).
	doubts = 2
	// grazing is how far a piece may come below its distance from another in a
	// tight lane, metres: on a round of 15 mm a lag of 1.3 mm drags it 0.06 mm
	// further in. A hair's width, a seventh of the placement error in that
	// distance. Doubled, the validator's slack of 0.1 mm refuses some plans
	// (reasoned).
	grazing = 70e-6
	// near is twice what a polyline may stray from its arc, metres. Doubled,
	// nothing changes before the validator's slack (reasoned).
	near = 20e-6
)

// What makes a way look right. None has a source: common practice is to run
// along the square edges, that is through the middles of the gaps. Measured over
// ten moves and their taking back, on the default rig by hand and with a tray:
// 152 s, 4.3 m of carries, 25 questions.
const (
	roomShare   = 0.12 // of a square: more extra room than this gains nothing. Doubled, carries are 0.3 % longer and as quick (measured)
	longerPaths = 0.08 // a roomier way may be this much longer than the shortest. Doubled, nothing changes (measured)
	slowerPaths = 0.05 // and take this much more time. Doubled, moves take 0.2 % longer (measured)
	bendShare   = 0.10 // of a square: the detour that one bend fewer is worth. Doubled, nothing changes (measured)
)

// firstShare is how much quicker the other order must be, as a share, to be
// preferred where two pieces move: by custom the king moves first when castling.
// How it was found is not recorded; doubled it would always be the other order
// that counts.
const firstShare = 0.85

// namedPieces is how many pieces a set-up sentence names one by one: what is
// kept in mind at once. Common practice, no source. Doubled, sentences get
// longer than the guest's page has room for (reasoned).
const namedPieces = 4

// straightEnough is how far off its middle, as a share of the square, a piece
// already at home may stay at set-up. Common practice, no source. Doubled, lanes
// of the next game are planned around pieces that stand askew (reasoned).
const straightEnough = 0.10

// asideRings are how far from where it stands a piece that steps aside may wait,
// squares, nearest first. Reasoned: within its square, on its edges, on the next ones.
// Doubled, pieces step farther than they must; with fewer, more moves are asked for.
var asideRings = [...]float64{0.2, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0}
