// SPDX-License-Identifier: Apache-2.0

package coupling

// The numbers of this package that were set by hand: unit, meaning, how each
// was found, and what doubling it does.

const (
	// Placement is the error of the carriage's own place with its backlash taken
	// up, metres: what a rule and a homing switch leave. Common practice, no
	// source. Doubled, lanes, reach and resting places lose half a millimetre
	// each (reasoned: it is added to each of them).
	Placement = 0.5e-3

	// leastGap is the gap at which magnets count as touching, metres, so that a
	// warp larger than the gap gives forces and no error. Reasoned; doubled,
	// nothing changes on a rig that assess does not fail for its gap.
	leastGap = 0.1e-3

	// FrictionScatter is how much a piece's friction, and the force model, may be
	// off at two standard deviations, as a share: friction of one wooden surface
	// scatters by about a tenth (chestnut 0.36–0.55 about 0.46: Villar-García et
	// al., Int. Agrophysics 34 (2020) 65), the model is good to 15 % (Vokoun and
	// Beleggia, J. Magn. Magn. Mater. 350 (2014) 174). It widens the way kept
	// from a standing piece, whose place is measured again and again. Doubled,
	// carried pieces keep wider of standing ones that hold magnets (reasoned).
	FrictionScatter = 0.2

	// FrictionReserve is how much stronger friction should be than what pulls at
	// a piece that is to stay, before parts are bought: the two sources above
	// at once and not by chance, since no other machine averages them out.
	// Doubled, most rigs warn of their neighbours (reasoned).
	FrictionReserve = 1.5

	// besideStep is the step of the scan for the safe distance, metres; the result
	// is rounded up to it. Doubled, safe distances grow by an eighth of a
	// millimetre on average (reasoned).
	besideStep = 0.25e-3

	// pushStep is the step, metres, in which the push of two bases is tabulated.
	// Doubled, it is 0.6 % off at worst instead of 0.2 % (TestPushes, discs of 6 mm).
	pushStep = 0.5e-3

	// softStep is the step, metres, over which the fall of the grip with the gap is
	// taken. Doubled, it is a hundredth less (reasoned: forces fall by a quarter a
	// millimetre).
	softStep = 0.1e-3
)
