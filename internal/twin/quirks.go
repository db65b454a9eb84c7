// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"math/rand/v2"

	"boardhand/internal/frame"
	"boardhand/internal/magnet"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Quirks are the true values of one built machine where they differ from its
// rig file: what a tape measure, a spirit level and a data sheet leave open.
type Quirks struct {
	CameraShift   frame.Point[frame.Board] // from where the rig file hangs it, m
	CameraTurn    [3]float64               // rotation vector in the camera frame, rad: tilts and the turn about the axis
	FocalScale    float64                  // true focal length over the nominal
	K1, K2        float64                  // radial distortion
	PrincipalX    float64                  // principal point from the picture's centre, px
	PrincipalY    float64
	MachineShift  frame.Spot[frame.Machine] // of the field's centre, m
	MachineTurn   float64                   // of the board on the machine, rad
	Bow           [4]float64                // shape of the board's warp: saddle, twist, dish, tilt of the bow; scaled to the rig's peak to valley
	DriveBr       unit.FluxDensity          // of the magnet on the lift
	FootBr        unit.FluxDensity          // mean of the feet
	FootScatter   float64                   // standard deviation of a foot's remanence over the mean
	FrictionScale float64                   // standard deviation of a piece's friction over the rig's
	Placement     float64                   // standard deviation of a piece's place at set-up, share of a square
	HomeScatter   float64                   // standard deviation of the axis zeros from homing to homing, m
}

// How far built machines differ from their papers. None has a source: common
// practice of people who drill by hand and hang a camera on a shelf bracket.
const (
	cameraShiftMax  = 0.008 // m, sideways; a shelf bracket set by eye
	cameraHeightMax = 0.012 // m
	cameraTiltMax   = 0.026 // rad, 1.5°: a spirit level on a small housing
	cameraYawMax    = 0.035 // rad, 2°
	focalMax        = 0.02  // published angles and sensors disagree by up to 3 %
	k1Least, k1Most = -0.09, 0.01
	k2Max           = 0.01
	principalMax    = 8.0    // px
	machineShiftMax = 0.0004 // m, after measuring with a rule
	machineTurnMax  = 0.0025 // rad
	footScatter     = 0.01   // remanence of discs of one batch
	frictionScatter = 0.10
	placementSigma  = 0.04 // of a square: pieces set up with some care
	homeScatter     = 0.00005
)

// DrawQuirks builds one machine by chance within what is usual.
func DrawQuirks(r *rig.Rig, chance *rand.Rand) (Quirks, error) {
	about := func(most float64) float64 { return most * (2*chance.Float64() - 1) }
	q := Quirks{
		CameraShift:  frame.Point[frame.Board]{X: about(cameraShiftMax), Y: about(cameraShiftMax), Z: about(cameraHeightMax)},
		CameraTurn:   [3]float64{about(cameraTiltMax), about(cameraTiltMax), about(cameraYawMax)},
		FocalScale:   1 + about(focalMax),
		K1:           k1Least + (k1Most-k1Least)*chance.Float64(),
		K2:           about(k2Max),
		PrincipalX:   about(principalMax),
		PrincipalY:   about(principalMax),
		MachineShift: frame.Spot[frame.Machine]{X: about(machineShiftMax), Y: about(machineShiftMax)},
		MachineTurn:  about(machineTurnMax),
		Bow:          [4]float64{about(1), about(1), about(1), about(1)},
		FootScatter:  footScatter, FrictionScale: frictionScatter,
		Placement: placementSigma, HomeScatter: homeScatter,
	}
	var err error
	if q.DriveBr, err = drawBr(r.Lift.Grade, chance); err != nil {
		return q, err
	}
	q.FootBr, err = drawBr(r.Pieces.Magnet.Grade, chance)
	return q, err
}

// NoQuirks is a machine exactly as its rig file says, pieces exactly centred.
func NoQuirks(r *rig.Rig) (Quirks, error) {
	q := Quirks{FocalScale: 1}
	lo, hi, err := magnet.Grade(r.Lift.Grade)
	if err != nil {
		return q, err
	}
	q.DriveBr = (lo + hi) / 2
	lo, hi, err = magnet.Grade(r.Pieces.Magnet.Grade)
	q.FootBr = (lo + hi) / 2
	return q, err
}

func drawBr(grade string, chance *rand.Rand) (unit.FluxDensity, error) {
	lo, hi, err := magnet.Grade(grade)
	return lo + unit.FluxDensity(chance.Float64())*(hi-lo), err
}
