// SPDX-License-Identifier: Apache-2.0

package tacho

import "time"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

const (
	// period is how often the motors are read and told: some ten attributes of 0.1 to
	// 1 ms each on a small computer, from memory. Doubled, corrections come later and
	// an axis is behind by half as much again.
	period = 20 * time.Millisecond
	// catchUp is the share of what an axis is behind that it makes up in a second, and
	// learning how fast it learns from that what friction takes, in 1/s²: 1/(2T) and
	// catchUp/(4T) for all delays T = 60 ms of a motor that takes 40 ms to change its
	// speed and is told every 20 ms (symmetrical optimum, from memory). Doubled, the
	// axes swing.
	catchUp, learning = 8, 33
	// weakest is the share of its speed that a motor may lack or have too much, from a
	// flat battery to a full one. Doubled, a wrong guess is unlearnt later.
	weakest = 0.3
	// lead is how far ahead of time the speed is told, s: the delays of before without
	// half a period. Doubled, axes run ahead while they speed up.
	lead = 0.05
	// spare is the share of a motor's largest speed that a motion may ask for; the rest
	// is kept to catch up. Common practice, no source.
	spare = 0.9
	// lagging is how far off its way the carriage may be without its being told, m: the
	// carriage's error that the clearances of a plan hold, and some three counts of
	// common drives. stalled is from where an axis counts as stopped: more than any load
	// makes it late (half a second at 20 mm/s). Doubled, a piece may touch another, or a
	// motor push longer, before anybody hears of it.
	lagging, stalled = 0.5e-3, 10e-3
	// late is how far an axis whose motor says that it is stalled must be behind, m: the
	// flag stands at slow motion too. Doubled, a stall is told later.
	late = 3e-3
	// evenly is the share of its speed by which an axis' speed may change within the
	// lead where friction is learnt: else inertia would be taken for friction.
	evenly = 0.02
	// sharp is the cosine of the turn from which the carriage stands at a corner, 10°:
	// less turns what an axis is late into less than a fifth of it beside the way.
	// Doubled, strokes with gentle bends leave their way by more.
	sharp = 0.985
	// jump is from how many counts since the last look a position is read once more: what
	// a motor of 1500 counts a second does in two periods. Doubled, a damaged number is
	// taken for an axis that is stalled.
	jump = 60
	// creeps is how many counts a motor that was let go may go on while it is zeroed.
	// Doubled, a damaged zero of as many counts passes.
	creeps = 1
	// settleKept is the divisor of what an axis that settles learns of friction, when it has: all of it adds
	// up from stroke to stroke until axes swing, none of it leaves the next start late. Found on the
	// simulated motors: 1 stalls within a hundred strokes. Doubled, starts are later.
	settleKept = 2
	// slowest is the speed that a motion is taken to have at least where it is held, m/s: at
	// less it stands anyhow. Doubled, holds in the first millimetre are softer.
	slowest = 1e-3
	// halfCount is how near its end an axis is to be, counts: nearer it cannot count.
	halfCount = 0.75
	// stallTime is how long the flag must stand: above the kernel's own delay.
	stallTime = 200 * time.Millisecond
	// missed is how far from its end an axis may stand, m; two counts always pass.
	missed = 0.3e-3
	// apart is how far the two motors of an axis may be apart, m: play and give of the
	// axis between them. Doubled, a rack takes more force before anybody is told.
	apart = 3e-3
	// beyond is what rounding and play taken up may put a place beyond the travel, m.
	beyond = 1e-3
	// homeDuty and liftDuty, per cent, are the forces that press against ends: enough
	// for friction, far from what bends parts. Common practice, no source; doubled, an
	// end is hit twice as hard.
	homeDuty, liftDuty = 30, 50
	// standsFor is how long a motor that is pressed must not count to be at its end.
	// Doubled, homing takes a second longer.
	standsFor = 300 * time.Millisecond
	// relax is how long motors get to come to rest. Doubled, homing takes a second
	// longer.
	relax = 300 * time.Millisecond
	// backOff is how far the axes go off their ends between the two presses, m: half a
	// second of way, in which friction is learnt. sameEnd is how far apart the two may
	// find them, m: two counts of common drives. Doubled, homing takes longer, and an
	// obstacle that gives way passes for an end.
	backOff, sameEnd = 30e-3, 0.5e-3
	// settleTime is the longest for the last counts of a way. Doubled, an axis that
	// cannot get there is told of later.
	settleTime = 1500 * time.Millisecond
	// liftTime is the longest for the lift from end to end.
	liftTime = 10 * time.Second
	// leastLift is the least way of a lift, turns of its motor; liftMiss how far from
	// its end, share of its way, it may stop. Common practice, no source.
	leastLift, liftMiss = 0.1, 0.1
	// slowAttribute is the longest that an attribute takes, ten times what small computers need
	// (0.1 to 1 ms, from memory). Doubled, an axis may be late by as much more through a slow wire
	// before that is put down to the wire.
	slowAttribute = 10 * time.Millisecond
	// misheard is from how far apart two readings of a place, one right after the other, are not one
	// place, m: above what an axis goes meanwhile. Doubled, smaller errors are put down to the axis.
	misheard = 0.3e-3
)
