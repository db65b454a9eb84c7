// SPDX-License-Identifier: Apache-2.0

package mechanics

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// Step is the step of the mechanics, s. The stiffest motion is a 5 g piece on a
// 2300 N/m magnetic spring: 680 rad/s, so that ω·Step = 0.34, well inside the
// limit of 2 of the semi-implicit Euler rule. Doubled it would still hold; halved
// the same run takes twice the time.
const Step = 0.0005

// screwShare is the efficiency of a screw when the rig gives none: 0.25–0.31
// for trapezoidal threads (Shigley, Mechanical Engineering Design, ch. 8).
// Doubled, a motor that a real screw would stall gets along.
const screwShare = 0.28

// leastMass is what an axis moves at least, kg, where the rig says nothing: a
// gram, so that forces divide by something. It acts on no real carriage.
const leastMass = 1e-3

// Limits of a motor that counts its turns. Common practice, no source.
const (
	// lagging is from how far behind its target it counts as not following, m.
	// Doubled, a stall is counted only when a piece is some 4 mm late.
	lagging = 0.002

	// creeping is the speed below which it does not move, m/s. Doubled, a motor
	// at the end of its force counts as stuck a little sooner.
	creeping = 1e-4

	// braked is how far behind it runs without regard to how it will stop, m: at
	// so little its steps end the motion by themselves. Doubled, it is a
	// step later in braking.
	braked = 1e-4
)

// restart is the speed below which a stepper out of step falls in again, m/s: some
// full steps a second. How it was found is not recorded. Doubled, one that lost
// steps recovers earlier in a slow stroke.
const restart = 0.002

// usualSteps is how many full steps a stepper turns in when the rig does not say: 1.8°
// each, common practice, no source. Doubled, its rotor is held √2 times as stiffly and
// feels single microsteps more.
const usualSteps = 200

// stallTime is for how long, s, an axis stands that should move until it says that
// it is stalled. Common practice, no source. Doubled, the motor pushes twice as
// long against what holds it before the machine stops.
const stallTime = 0.15

// Tolerance is how far behind its motion an axis may be, m: half of the 0.5 mm
// of carriage error that the clearances of a plan hold. Faultless strokes of
// the default rig stay below a tenth of it (TestNoLagWithoutFault). Doubled, an
// axis may use up what a plan's clearances hold before anybody hears of it.
const Tolerance = 0.25e-3

// arrived is how near both motors must be to a stroke's end, m: 10 µm, less than a
// count of most axes. Doubled, a lagging axis is let go a step sooner.
const arrived = 1e-5

// creep is the speed that is left over at a stop by working in steps, m/s: the
// last hundredth of a millimetre is run at it. What it must be for strokes to
// stop where they should is in pacer_test.go;
// doubled, a stroke
// may run on by 0.2 µm a step.
const creep = 0.2e-3

// turnBack is cos of the turn from which the carriage stands at a corner: 162°.
// Reasoned: on the way back along itself there is no arc to run.
const turnBack = -0.95

// How wrong a frame is, with its fault.
const (
	// skewAngle, rad: 0.5°, a frame squared by eye; 2.8 mm over a board of 320 mm.
	// Doubled, pieces of the far ranks miss their lanes and the fault shows at once.
	skewAngle = 0.00872665

	// scaleError is a share of the way: a printed rack that shrank, a belt pulley of
	// the wrong make. Doubled, the far squares are missed by 6 mm.
	scaleError = 0.01
)

// jamShare of the times that the lift is told to go down it stays up, with its
// fault: a cam that catches. Chosen so that a game meets it every few moves; doubled,
// most carries do.
const jamShare = 1.0 / 3

// A lift that will stay down goes up so often at least and at most: it stays down
// within the first moves of a game. Doubled, short games end before it does.
const LeastRaises, MostRaises = 2, 9
