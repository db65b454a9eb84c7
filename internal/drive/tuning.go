// SPDX-License-Identifier: Apache-2.0

package drive

// The numbers of this package that were set by hand: unit, meaning, how each
// was found, and what doubling it does, measured or reasoned.

// runningShare is what of the holding torque a moving stepper keeps before it
// loses steps. Common practice, no source. Doubled it would be more than the
// motor has.
const runningShare = 0.7

// chopperShare is what of the power that a chopper driver takes reaches the motor.
// Common practice, no source. Doubled it would be more than it takes.
const chopperShare = 0.85

// The largest values a profile is asked for, SI: bounds of sense, far above any
// table-top drive. Doubled, nothing changes (reasoned).
const (
	mostLength, mostSpeed = 1e3, 1e3
	mostAccel, mostJerk   = 1e5, 1e9
)

// Largest sizes a table-top drive has: common practice, no source. Doubled,
// slips of the pen by a factor of ten are caught later, by reach or time
// (reasoned).
const (
	mostModule, mostPitch, mostLead = 0.02, 0.05, 0.1 // m
	mostTeeth                       = 1000
)
