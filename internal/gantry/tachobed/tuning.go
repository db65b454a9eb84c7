// SPDX-License-Identifier: Apache-2.0

package tachobed

import "time"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

const (
	// step of the simulation: a twentieth of the motor's time constant. Doubled, the
	// motors' motion changes by less than a count.
	step = time.Millisecond
	// mostAxes is how many axes there may be.
	mostAxes = 4
	// inertia is the motors' time constant, s, unloaded: common practice for small
	// geared motors, no source. Doubled, motors lag twice as far while they speed up.
	inertia = 0.04
	// coasting is the time constant without current, s: from memory. Doubled, a motor
	// that coasts runs twice as far.
	coasting = 0.15
	// gain, in 1/s, and sumGain, in 1/s², are the regulator's: how fast it makes up
	// what it is behind. Set so that a step of load is made up in a fifth of a second
	// without overshoot (TestKeepsItsSpeedUnderLoad). Doubled, it oscillates.
	gain, sumGain = 12, 20
	// stillness is the share of the largest speed below which a motor counts as not
	// turning, stallTime how long that must last for the flag, s: from memory of the
	// drivers. Doubled, a stall is told later.
	stillness, stallTime = 0.02, 0.2
	// overload is the share of the wanted speed below which a motor at full duty is
	// overloaded. Common practice, no source.
	overload = 0.9
	// creep is the speed, counts a second, below which friction holds. Doubled, the
	// last count comes a little later.
	creep = 5
	// arrived is how near its target a motor ends its command, counts: the class'
	// drivers stop within a count, from memory. Doubled, targets are missed by more.
	arrived = 1
	// stiffness of the axis between its motors: share of the stall torque for each
	// count that a motor is away from their mean. Common practice for a shaft of
	// plastic parts, no source. Doubled, motors that disagree fight twice as hard.
	stiffness = 0.02
	// longestRamp is the longest ramp, ms: from memory (60 s). Doubled, slower ramps
	// are taken.
	longestRamp = 60000
)
