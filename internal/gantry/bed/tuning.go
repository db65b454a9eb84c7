// SPDX-License-Identifier: Apache-2.0

package bed

import "time"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

const (
	// switchAt is where the switches close, mm from the ends, pullOff how far homing backs
	// off them: a tenth of what common micro switches need, and twice their spread. Common
	// practice, no source; doubled, homing takes a second longer.
	switchAt, pullOff = 0.5, 2.0
	// homingSeek and homingFeed are how fast the switches are looked for, and found, mm/min:
	// common practice, no source. Doubled, homing takes half as long.
	homingSeek, homingFeed = 3000, 100
	// liftPerMM is the steps in a millimetre of a lift that is an axis: a screw of 8 mm
	// lead. Doubled, nothing is seen.
	liftPerMM = 400
	// liftHair is the share of its way within which a lift is at its end: some steps of an
	// axis, half a count of a motor. Doubled, nothing is seen.
	liftHair = 0.003
	// linger is how long after a step the world's time goes on: from it on, steps are slower
	// than 0.2 mm/s. Doubled, the pieces have as much longer to come to rest.
	linger = 50 * time.Millisecond
	// look is how often the world is told where a lift on an output or a tacho motor is.
	// Doubled, the magnet rises in steps of 0.2 mm.
	look = 2 * time.Millisecond
)

const (
	// firstMotor is the number of the first tacho motor: any, numbers say nothing.
	firstMotor = 3
	// friction of each axis, share of its motor's stall torque, as in the drivers' suite.
	// Doubled, the driver learns more of it before it is in time.
	friction = 0.1
	// liftCounts and liftTurns: a lift that a motor of 360 counts brings from end to end
	// in a turn. Doubled, it takes twice as long.
	liftCounts, liftTurns = 360, 1.0
	// slowFolder is by how much quicker a late attribute is than a late line: a tenth of a
	// second is long for the kernel. Common practice, no source; doubled, axes are hardly
	// ever late.
	slowFolder = 10
	// nearEnd is how near its zero a homed machine stands, mm. Doubled, nothing is seen.
	nearEnd = 1.0
	// afterLate is how soon after a late line or answer the planner's running dry is put down to it:
	// the driver answers within a few ms, in bed time. Doubled, as much may be excused by chance.
	afterLate = 50 * time.Millisecond
)
