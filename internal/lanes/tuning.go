// SPDX-License-Identifier: Apache-2.0

package lanes

// The numbers of this package that were set by hand: unit, meaning, how each
// was found, and what doubling it does, measured or reasoned.

const (
	// touching is how far inside a circle a straight piece may pass before it
	// counts as blocked: 1 nm, far below anything a maker can measure and far
	// above rounding at board size (1e-16 m). Doubled, nothing changes (reasoned).
	touching = 1e-9
	// angleNoise: two touching points closer than this are the same one, radians;
	// 1e-9 at 20 mm is far below an atom. Doubled, nothing changes (reasoned).
	angleNoise = 1e-9
	// drawn is how far outside its arc a polyline may run, metres: an arc is
	// replaced by straight pieces that touch it from outside, so that none comes
	// closer to the obstacle than the arc did. A tenth of a good placement.
	// Doubled, polylines have a third fewer corners (reasoned: the square root).
	drawn = 10e-6
	// outerStrip is what a metre outside the favoured rectangle costs more, as a
	// share: enough to choose the inner of two like ways, too little to force a
	// detour. Doubled, routes of the default rig stay the same
	// (measured over twenty moves).
	outerStrip = 0.3
	// maxYields is how many obstacles may yield at once: the bits of a word, no
	// choice.
	maxYields = 64
	// enoughRoom is how many of the shares of Taste.Room, from the largest down,
	// count as room enough for a way inside to be preferred to one along the rim.
	// How it was found is not recorded. Doubled, ways keep inside through the
	// narrowest gaps too (reasoned: there are five shares).
	enoughRoom = 3
)

// roomSteps are the shares of Taste.Room tried, best first; with the shares
// before enoughRoom a way inside is preferred to one along the rim. Reasoned; with
// more of them, ways are a little roomier and take longer to find.
var roomSteps = [...]float64{1, 0.6, 0.35, 0.2, 0.1}
