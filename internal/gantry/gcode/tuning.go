// SPDX-License-Identifier: Apache-2.0

package gcode

import "time"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// What the firmware's published interface description gives, for a controller that
// does not tell its own with $I.
const (
	bufferBytes  = 128 // of the receive buffer
	bufferBlocks = 15  // of the planner: it counts 16, one of which stays empty
	leastBlocks  = 4   // below them, what it tells of itself is not believed
	leastBytes   = 64
	longestReply = 256 // characters: three times a status with every field
)

// Times on the wire.
const (
	// askEvery is the least time between two questions for the status: at most five
	// a second (the firmware's published interface description).
	askEvery = 200 * time.Millisecond
	// watchEvery is how often the status is asked for during a stroke. Doubled, a
	// button pressed at the controller is noticed half a second later.
	watchEvery = 250 * time.Millisecond
	// patience is how long an answer may be missing that nothing holds up. Lines take
	// 2 ms at 115200 baud; a busy computer or a USB hub may take a tenth of a second.
	// Doubled, a lost answer is noticed that much later; the axes stand by then.
	patience = 2 * time.Second
	// bannerTime and bannerTries: a board that the opened port resets sits in its
	// loader for up to two seconds (common boards, no source). Doubled, a controller
	// that is silent is given up after ten seconds.
	bannerTime  = 1200 * time.Millisecond
	bannerTries = 4
	// quiet is for how long what else a starting controller says is let pass.
	quiet = 100 * time.Millisecond
	// holdTime is how long an axis may take to stand after a feed hold: 120 mm/s
	// is lost in 0.3 s at 400 mm/s². Doubled, a reset comes a second later where the
	// controller does not say that it stands.
	holdTime = 1500 * time.Millisecond
	// restTries is how often the status is asked for after a stroke that was answered.
	restTries = 5
	// complainEvery is the least time between two complaints.
	complainEvery = time.Second
	// homingMargin is by how much homing may take longer than its longest search.
	homingMargin = 10 * time.Second
)

// How a ride is cut into lines.
const (
	// lineTime is the shortest time a line lasts, s, but for what is needed at corners:
	// 15 planned blocks then last 0.3 s (samples of the ride are 10 ms apart), which is more than any hiccup of a computer
	// that is not out of memory. Doubled, speed follows the S-curve in steps twice as
	// high.
	lineTime = 0.018
	// lineSteps is the least length of a line in steps of the coarser axis: shorter
	// ones point anywhere. Doubled, a ride begins later by a hundredth of a second.
	lineSteps = 8
	// lineLength is the same for fine axes, m.
	lineLength = 0.1e-3
	// chord is by how much a line may leave the ride, m: a third of the carriage's
	// own rounding of corners. Doubled, arcs have a third fewer lines.
	chord = 15e-6
	// chordShare is the same as a share of the junction deviation: the controller takes
	// the corners between chords of an arc as fast as the arc itself where the
	// chords leave it by the junction deviation. Doubled, arcs are driven slower.
	chordShare = 0.6
	// even is the difference of speed, as a share, up to which two stretches are one line.
	even = 1e-3
	// paceTries is how often the feeds are adjusted to the time of the ride. Doubled, the
	// times agree by another tenth of a percent.
	paceTries = 4
	// longestGrain is the longest that lineTime is stretched to, s.
	longestGrain = 0.2
	// turnsRound is the cosine of the turn from which the carriage stops at a corner,
	// as in carry/trajectory: 0.9 π.
	turnsRound = -0.951
	// lineBytes is how long a line of motion is at most, in bytes.
	lineBytes = 34
	// wireShare is which share of the wire's speed the lines may need.
	wireShare = 0.5
)

// How near numbers must be.
const (
	// settingShare is by how much a setting may differ from the rig file: rounding
	// to three decimals.
	settingShare = 1e-3
	// liftSlack is by how much the lift's height may be off, m: a tenth of the air
	// under a board. Doubled, the pull on a piece may be a few percent less.
	liftSlack = 0.05e-3
	// arrivedSteps is by how many steps a stroke's end may be off: rounding to steps
	// and to micrometres.
	arrivedSteps = 1.6
	arrivedSlack = 2e-6 // m
	// limitSlack is by how much a place may lie beyond the travel, m: rounding.
	limitSlack = 1e-6
)

// holdTries is how many statuses in a row may say that the controller does not hold, or does
// not go on, before the link is given up: two seconds, in which any carriage has come to
// rest. Doubled, a controller that no longer listens is noticed two seconds later.
const holdTries = 10
