// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"boardhand/internal/frame"
	"boardhand/internal/magnet"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Deviations are the true values of one built machine where they differ from its
// rig file: what a tape measure, a spirit level and a data sheet leave open.
type Deviations struct {
	CameraShift   frame.Point[frame.Board] // from where the rig file hangs it, m
	CameraTurn    [3]float64               // rotation vector in the camera frame, rad: tilts and the turn about the axis
	FocalScale    float64                  // true focal length over the nominal
	K1, K2        float64                  // radial distortion
	PrincipalX    float64                  // principal point from the picture's centre, px
	PrincipalY    float64
	MachineShift  frame.Spot[frame.Machine] // of the field's centre, m
	MachineTurn   float64                   // of the board on the machine, rad
	Skew          float64                   `json:",omitzero"` // the y axis leans so far towards x, rad
	Stretch       [2]float64                `json:",omitzero"` // true travel of each axis over the counted, less 1
	Play          [2]float64                `json:",omitzero"` // of each axis, beyond the rig's backlash, m
	Bow           [4]float64                // shape of the board's warp: saddle, twist, dish, tilt of the bow; scaled to the rig's peak to valley
	DriveBr       unit.FluxDensity          // of the magnet on the lift
	BaseBr        unit.FluxDensity          `json:"FootBr"`      // mean of the bases' magnets; kept worlds have its older name
	BaseScatter   float64                   `json:"FootScatter"` // standard deviation of a base magnet's remanence over the mean
	FrictionScale float64                   // standard deviation of a piece's friction over the rig's
	Placement     float64                   // standard deviation of a piece's place at set-up, share of a square
	HomeScatter   float64                   // standard deviation of the axis zeros from homing to homing, m
}

// DrawDeviations builds one machine by chance within what is usual.
func DrawDeviations(r *rig.Rig, chance *rand.Rand) (Deviations, error) {
	about := func(most float64) float64 { return most * (2*chance.Float64() - 1) }
	q := Deviations{
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
		BaseScatter:  baseScatter, FrictionScale: frictionScatter,
		Placement: placementSigma, HomeScatter: homeScatter,
	}
	var err error
	if q.DriveBr, err = drawBr(r.Lift.Grade, chance); err != nil {
		return q, err
	}
	q.BaseBr, err = drawBr(r.Pieces.Magnet.Grade, chance)
	return q, err
}

// NoDeviations is a machine exactly as its rig file says, pieces exactly centred.
func NoDeviations(r *rig.Rig) (Deviations, error) {
	q := Deviations{FocalScale: 1}
	lo, hi, err := magnet.Grade(r.Lift.Grade)
	if err != nil {
		return q, err
	}
	q.DriveBr = (lo + hi) / 2
	lo, hi, err = magnet.Grade(r.Pieces.Magnet.Grade)
	q.BaseBr = (lo + hi) / 2
	return q, err
}

func drawBr(grade string, chance *rand.Rand) (unit.FluxDensity, error) {
	lo, hi, err := magnet.Grade(grade)
	return lo + unit.FluxDensity(chance.Float64())*(hi-lo), err
}

// Builds are the names of the machines that Build makes.
var Builds = []string{"drawn", "exact", "askew"}

// Build is how the machine of a name is built: "drawn" by the seed, as World does it,
// "exact" as its rig file says, or "askew". An error names those that there are.
func Build(name string, r *rig.Rig, seed int64) (Deviations, error) {
	switch name {
	case "drawn":
		return DrawDeviations(r, rand.New(rand.NewPCG(uint64(seed), streamBuild)))
	case "exact":
		return NoDeviations(r)
	case "askew":
		return Askew(r)
	}
	return Deviations{}, fmt.Errorf("no machine is built %q: write %s", name, strings.Join(Builds, ", "))
}

// Askew is a machine that was built wrong by what a bring-up must find: axes 0.7° out of
// square, steps 1.2 % wrong, the board 3 mm and 0.5° off, 0.8 mm of backlash in all, the
// camera 15 mm off and not plumb, its lens 1.2 % longer than advertised and not in the
// middle of its sensor.
func Askew(r *rig.Rig) (Deviations, error) {
	q, err := NoDeviations(r)
	q.Skew, q.Stretch = askewTurn*math.Pi/180, [2]float64{askewStretch, -askewStretch}
	q.Play = [2]float64{max(0, askewBacklash-float64(r.Axis.X.Backlash)), max(0, askewBacklash-float64(r.Axis.Y.Backlash))}
	q.MachineShift, q.MachineTurn = frame.Spot[frame.Machine]{X: 0.8 * askewBoard, Y: -0.6 * askewBoard}, -askewBoardTurn*math.Pi/180
	q.CameraShift = frame.Point[frame.Board]{X: 9e-3, Y: -9e-3, Z: 8e-3}
	q.CameraTurn, q.FocalScale = [3]float64{0.010, -0.007, 0.015}, 1.012
	q.K1, q.K2, q.PrincipalX, q.PrincipalY = -0.05, 0.005, 4, -3
	q.HomeScatter, q.Placement, q.BaseScatter, q.FrictionScale = homeScatter, placementSigma, 0.01, 0.10
	q.Bow = [4]float64{0.5, -0.3, 0.6, 0.2}
	return q, err
}
