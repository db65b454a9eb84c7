// SPDX-License-Identifier: Apache-2.0

package mechanics

import (
	"boardhand/internal/frame"
	"boardhand/internal/rig"
)

// pose is the true place of the board on the machine.
type pose struct {
	machineFromBoard frame.Pose[frame.Machine, frame.Board]
	boardFromMachine frame.Pose[frame.Board, frame.Machine]
}

func newPose(r *rig.Rig, b Build) pose {
	nominal := r.MachineFromBoard()
	p := frame.Pose[frame.Machine, frame.Board]{
		R: frame.FromVector([3]float64{0, 0, b.Turn}).Mul(nominal.R),
		T: nominal.T.Add(b.Shift.At(0)),
	}
	return pose{p, p.Inverse()}
}
