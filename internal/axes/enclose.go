// SPDX-License-Identifier: Apache-2.0

package axes

import (
	"math"

	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Enclose makes the axes' travel what the magnet must reach to the left, right, front and
// back of the field's centre, and the walls around it what the carriage takes then: one
// square box, its sheet on all four walls.
func Enclose(r *rig.Rig, need [4]unit.Length) {
	k, walls := r.Carriage, unit.Length(0)
	for i, a := range []*rig.Axis{&r.Axis.X, &r.Axis.Y} {
		half := up(max(need[2*i], need[2*i+1])+a.Backlash/2+spare, boxStep)
		a.Travel, a.Origin = 2*half, half
		walls = max(walls, up(half+max(k.Left, k.Right, k.Front, k.Back)+spare, boxStep))
	}
	w := &r.Walls
	w.Left, w.Right, w.Front, w.Back = walls, walls, walls, walls
	lacks := unit.Length(0) // of guides and motors, where they commonly lie
	for _, c := range PlacesOf(r).Clearances() {
		lacks = max(lacks, -c.Left)
	}
	walls += up(lacks, boxStep)
	w.Left, w.Right, w.Front, w.Back = walls, walls, walls, walls
	x, _ := r.Board.Half()
	r.Board.Rim = max(0, walls+w.Depth()-x-r.Board.Border)
}

// LeadToBuy is the length in which a lead of a rig is sold that is long enough.
func LeadToBuy(r *rig.Rig, c rig.Cable) unit.Length { return up(CableNeedOf(r, c).Need, leadStep) }

// up rounds up to a step, to a whole micrometre as a file has it.
func up(l unit.Length, step float64) unit.Length {
	return unit.MM(math.Round(math.Ceil(float64(l)/step-1e-9)*step*1e6) / 1e3)
}
