// SPDX-License-Identifier: Apache-2.0

package physics

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.
// They make the simulated table, not the machine's reading of it: what a change does
// shows in how often rehearsed games slip, collide and topple.

// Contact of two bases.
const (
	// bounce is the speed left after a push over that before: almost none (felt and
	// wood, common practice). Doubled, a piece that was pushed slides a hair farther.
	bounce = 0.1

	// hairGap is from how far apart a pair counts as parted, m, so that one push is one
	// collision. Doubled, two pushes in a row may count as one.
	hairGap = 0.0002

	// maxRound is how many rounds of pushing apart one step has: a row of six pieces
	// passes a push on. Doubled, longer rows do, which no board has.
	maxRound = 6
)

// dragged is how far a piece must have been moved by the magnet, m, to count as
// dragged along: 0.3 mm is seen by nobody and disturbs nothing. Doubled, fewer such
// pieces are counted.
const dragged = 0.0003

// plainly is how far a piece must have been moved for a picture to show it, m:
// five standard deviations of what two pictures measure. Doubled, faults count as
// shown later, and rehearsals ask for their names later.
const plainly = 0.005

// lostAt is the distance from which the held piece is lost, over the offset of the
// largest pull: at three times that less than a tenth of the pull is left. Nearer a
// light piece may still come back, since the magnet's ring takes most of its weight
// off the board. Doubled, slips are counted later in their stroke.
const lostAt = 3.0

// How sticky a place is where something was spilt, with the fault. Chosen so that a
// game of forty moves meets several.
const (
	stickyShare = 0.35  // of the strokes with a piece meet such a place; doubled, two of three do
	stickyHold  = 1.0   // N, there: a drop of something sweet; halved, strong magnets pull through
	stickyReach = 0.012 // m; doubled, most pieces stand in it already when they set out, and are spared
	spillFrom   = 0.3   // of the way: nearer the start nothing was spilt; doubled, pieces are lost near their goal
)

// stillSpeed is where a piece without drive counts as standing, m/s: 1e-6 m/s moves
// it 1 µm in a second. Doubled, nothing that can be measured changes.
const stillSpeed = 1e-6

// settleTime is how long pieces are given to come to rest, s: a piece at 0.3 m/s stops
// within 0.15 s. Doubled, only a world that never rests takes longer.
const settleTime = 0.5

// boardStiffness of a 4 mm plywood sheet pressed in its middle, N/m: a plate
// of 0.3 m held at its edges, 16πD·…; order of magnitude only, from memory. It acts
// without a spring alone; doubled, the axes have up to twice the friction there.
const boardStiffness = 8000

// The tables of magnetic forces end where forces are far below the weight of any
// piece: at 80 mm less than a thousandth of a newton for magnets up to 20 mm. Doubled,
// the table is coarser over the part that matters.
const pullReach, repelReach = 0.080, 0.080

const (
	// repelStep is the step of the table of two bases side by side, m. Doubled, the
	// push of two that nearly touch is less exact.
	repelStep = 0.0005

	// 30 gaps × 120 offsets keep the interpolation within 1e-4 of the largest pull and a
	// table within 0.1 s. Halved, errors grow about fourfold.
	gapsTabled, offsetsTabled = 30, 120

	// surveyStep is the step at which the offset of the largest pull is looked for, m.
	// Doubled, it may be off by up to half a millimetre.
	surveyStep = 0.25e-3

	// leastGap between two magnets' faces, m: no sheet is thinner.
	leastGap = 0.5e-3

	// trifle is the pull that is left out, over what friction holds of the lightest
	// piece. Doubled, pieces far from the magnet are computed less often, and none moves.
	trifle = 0.02
)

// holeShare is the radius of the trapdoor over the side of a square: a hole that
// the bases fit through, as the maker's drawing has it. Doubled, pieces of the squares
// beside it fall in.
const holeShare = 0.35

// How pieces differ from each other. Common practice, no source.
const (
	leastFriction = 0.5   // of the nominal: no piece slides more easily; it acts on one draw in millions
	shadeSpread   = 0.06  // σ of a piece's own colour over its set's; doubled, the reader's colours of a side are broader
	slant         = 0.006 // rad, σ: a base not turned quite square; doubled, heads are 0.3 mm more off their bases
)

// How wide bases are that are far too wide, with the fault.
const (
	wideShare  = 1.9  // of the base's nominal diameter: a card base cut from the wrong template …
	widestBase = 0.92 // … but never more of a square, or they could not be set up
)

// SlotReach is how far from a slot's middle, as a share of a board's square, a
// piece still counts as standing in it. Reasoned: people see at a glance that one
// farther off does not. Doubled, pieces between two slots count as in one.
const SlotReach = 0.3

// fingerRoom is what a person leaves between two bases, m: common practice. Doubled,
// pieces on crowded squares stand that much farther off centre.
const fingerRoom = 0.0003

// mostShifts is how often a piece just put down gives way to neighbours: four of them,
// five times over. Doubled, nothing changes on any board that people set up.
const mostShifts = 20
