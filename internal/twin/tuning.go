// SPDX-License-Identifier: Apache-2.0

package twin

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// How far built machines differ from their papers. None has a source: common
// practice of people who drill by hand and hang a camera on a shelf bracket.
// Doubled, those of the camera make the first look at the board search longer, those
// of the machine eat half of the clearances that a plan holds.
const (
	cameraShiftMax  = 0.008 // m, sideways; a shelf bracket set by eye
	cameraHeightMax = 0.012 // m
	cameraTiltMax   = 0.026 // rad, 1.5°: a spirit level on a small housing
	cameraYawMax    = 0.035 // rad, 2°
	focalMax        = 0.02  // published angles and sensors disagree by up to 3 %
	k1Least, k1Most = -0.09, 0.01
	k2Max           = 0.01
	principalMax    = 8.0     // px
	machineShiftMax = 0.0004  // m, after measuring with a rule
	machineTurnMax  = 0.0025  // rad
	baseScatter     = 0.01    // remanence of discs of one batch
	frictionScatter = 0.10    // of a piece's friction over the rig's
	placementSigma  = 0.04    // of a square: pieces set up with some care
	homeScatter     = 0.00005 // m: what a small switch repeats
)

// askewBacklash is what each axis of a machine that was built wrong has, m: four times that of
// a rack that is set well. Doubled, pieces are set down on the lines.
const askewBacklash = 0.8e-3

// What else such a machine has: its axes out of square, degrees; steps too long on x and too
// short on y, a share; the board off its place, m, and turned, degrees. As bad as a frame
// squared by eye comes out; doubled, bring-up no longer finds the pawn where it looks.
const askewTurn, askewStretch, askewBoard, askewBoardTurn = 0.7, 0.012, 3e-3, 0.5

// How strong the faults are. Chosen so that each shows within a game.
const (
	weakShare = 0.06 // of the drive magnet's remanence left: overheated while it was glued; doubled, some pieces still follow
	fastShare = 4.0  // of the speed and acceleration told; halved, strong magnets keep their pieces
)

// And of those of single parts.
const (
	offCentreLeast = 1.5e-3 // m: a magnet dropped into a bore cut one size too wide …
	offCentreMost  = 2.5e-3 // … and glued against its wall; doubled, it would stick out of a small base
)

// dropShare is how often the lift falls down by itself when its motor has no
// power: half of them, since a cam or a screw holds and a rack does not.
const dropShare = 0.5

// frameTime is the time from one picture to the next, s: a webcam that is read
// five times a second. Doubled, a game takes longer and its pictures are as many.
const frameTime = 0.2

// How the gantry runs.
const (
	chunk      = 0.02  // s of world time between looks at the outside: 50 a second; doubled, a halt takes up to twice as long
	homeSpeed  = 0.04  // m/s towards the switches, common practice
	pastSwitch = 0.001 // m that it goes on beyond where the counts end
	stalledFor = 0.05  // s for which an axis that is turned from outside must not follow to count as stalled: some steps of a coarse motor; doubled, fewer stalls are counted
	brushing   = 0.005 // m/s: a piece that moves slower stands, and a hand that touches it does so itself; doubled, the last of a deceleration counts no more
	tailTime   = 0.4   // s a lagging axis gets to arrive; doubled, each stall takes longer
)
