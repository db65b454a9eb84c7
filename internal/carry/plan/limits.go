// SPDX-License-Identifier: Apache-2.0

package plan

import (
	"fmt"

	"boardhand/internal/frame"
)

// Limits are the numbers a plan must respect: what the axes reach and what
// the magnets, the friction and the motors allow. Metres, seconds.
type Limits struct {
	Inside frame.Rect[frame.Board] // where the magnet's axis can go, board frame
	Sheet  frame.Rect[frame.Board] // where the centre of a base may be, board frame

	SafePass    float64 // raised magnet with a piece over it, to the axis of a standing magnetised piece that just stays
	SafeSpread  float64 // what the scatter of friction and forces adds to it
	LoweredPass float64 // the same for the lowered magnet; 0 when the drop is enough
	Apart       float64 // centres of two magnetised pieces that leave each other alone
	Lag         float64 // a carried piece trails the magnet's axis by this
	LagSpread   float64 // ± of Lag over warp, magnets and friction
	Lead        float64 // how far the carriage runs on beyond the end of a carry
	Back        bool    // and then it comes back under the piece: lowered ahead of it, it would draw the piece after it
	Placement   float64 // error of the carriage's own place, backlash taken up

	Carry    Drive      // magnet raised: no slip, no tipping, no stall
	Travel   Drive      // magnet lowered
	LiftTime float64    // to raise or lower the magnet
	Backlash [2]float64 // of the x and y axis, in full
}

// Check says what is wrong with the numbers.
func (l Limits) Check() error {
	switch {
	case !(l.Carry.Moves() && l.Travel.Moves()):
		return fmt.Errorf("speeds, accelerations and jerks must be more than 0; got carry %v, travel %v", l.Carry, l.Travel)
	case !(l.Inside.Min.X < l.Inside.Max.X && l.Inside.Min.Y < l.Inside.Max.Y):
		return fmt.Errorf("the carriage reaches nothing: check axis travel, origin, walls and carriage extents")
	case !(l.SafePass >= 0 && l.SafeSpread >= 0 && l.LoweredPass >= 0 && l.Lag >= 0 && l.LagSpread >= 0 && l.Lead >= 0 && l.Placement >= 0):
		return fmt.Errorf("distances must not be negative: %+v", l)
	}
	return nil
}
