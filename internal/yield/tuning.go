// SPDX-License-Identifier: Apache-2.0

package yield

// The numbers of this package that were set by hand: unit, meaning, how each was found,
// and what doubling it does.

// profileStep is the step, metres, at which pulls are sampled over the offset. Between
// steps they are off by less than 1e-3 of the largest (tested); doubled, by eight times
// as much, and a run takes two thirds of the time.
const profileStep = 0.25e-3

// Gaps and offsets of the table of forces: as many as assess has, where they interpolate
// to 1e-4 of the largest pull.
const tableGaps, tableOffsets = 26, 76

// tableSpare is how far beyond the usual gaps the table goes, in standard deviations of
// the gap; a build beyond it is judged at the table's end. Doubled, nothing changes in a
// run of twenty thousand builds (reasoned: none is beyond six).
const tableSpare = 6

// leastGap is the least gap, metres, for which forces are computed: as in assess.
const leastGap = 0.5e-3

// Offsets looked at, metres: beyond where the pull ends, and beyond half a square. A
// standing piece that is dragged from farther off counts as dragged from there; doubled,
// runs take longer and the reserve of lines that fail by far is told larger.
const beyondPull, beyondLane = 3e-3, 12e-3

// tipStep is the step, metres, of the gaps at which what tips a piece is worked out;
// between, a parabola. Doubled, the least base is off by a few hundredths of a millimetre
// (reasoned: forces change by a tenth a step).
const tipStep = 0.3e-3

// settleShare is how far off the middle a piece may come to rest, as a share of the
// square: as in assess. Doubled, hardly any build fails drag.settle.
const settleShare = 0.06

// steps are how far, in standard deviations, the slope of a line that is not computed
// build by build is looked for. Doubled, slopes of bent lines are taken over twice the way.
const slopeSigmas = 1.0

// Defaults of a run: builds and the seed.
const (
	Builds = 20_000
	Seed   = 1
	// MostBuilds bounds the memory of a run: 200 bytes a build.
	MostBuilds = 10_000_000
)

// mostNamed is how many tolerances are named for a line.
const mostNamed = 3

// mostReserve is the reserve, in standard deviations, that is told of a line that hardly
// varies: any number beyond what matters does.
const mostReserve = 99

// reserveTold is the largest reserve told as a number, standard deviations: beyond it no
// budget is known well enough.
const reserveTold = 10

// countable is how many builds must fail for their share to tell the reserve: ten are
// known to a third. Doubled, less of what is told is by count.
const countable = 10
