package carry

import (
	"fmt"
	"math"

	"boardhand/internal/lanes"
	"boardhand/internal/rig"
)

// Limits are the numbers a plan must respect: what the axes reach and what
// the magnets, the friction and the motors allow. Metres, seconds.
type Limits struct {
	Inside lanes.Rect // where the magnet's axis can go, board frame
	Sheet  lanes.Rect // where the centre of a foot may be, board frame

	SafePass    float64 // raised magnet with a man over it, to the axis of a standing magnetised man that just stays
	SafeSpread  float64 // what the scatter of friction and forces adds to it
	LoweredPass float64 // the same for the lowered magnet; 0 when the drop is enough
	Apart       float64 // centres of two magnetised men that leave each other alone
	Lag         float64 // a carried man trails the magnet's axis by this
	LagSpread   float64 // ± of Lag over warp, magnets and friction
	Lead        float64 // how far the carriage runs on beyond the end of a carry
	Back        bool    // and then it comes back under the man: lowered ahead of him it would draw him after it
	Placement   float64 // error of the carriage's own place, backlash taken up

	Carry    Drive      // magnet raised: no slip, no tipping, no stall
	Travel   Drive      // magnet lowered
	LiftTime float64    // to raise or lower the magnet
	Backlash [2]float64 // of the x and y axis, in full
}

// Reach is the rectangle the magnet's axis can go to: the axes' travel, and
// the carriage's body between the walls. Frame Board, metres.
func Reach(r *rig.Rig) lanes.Rect {
	x0, x1 := span(r.Axis.X, float64(r.Walls.Left-r.Carriage.Left), float64(r.Walls.Right-r.Carriage.Right))
	y0, y1 := span(r.Axis.Y, float64(r.Walls.Front-r.Carriage.Front), float64(r.Walls.Back-r.Carriage.Back))
	bx, by := float64(r.Axis.X.Backlash)/2, float64(r.Axis.Y.Backlash)/2 // left for taking it up
	return lanes.Rect{Min: lanes.Spot{X: x0 + bx, Y: y0 + by}, Max: lanes.Spot{X: x1 - bx, Y: y1 - by}}
}

// span is what one axis reaches, from the field's centre; walls that were not
// given do not limit.
func span(a rig.Axis, low, high float64) (float64, float64) {
	lo, hi := -float64(a.Origin), float64(a.Travel-a.Origin)
	if low > 0 {
		lo = math.Max(lo, -low)
	}
	if high > 0 {
		hi = math.Min(hi, high)
	}
	return lo, hi
}

// sheet is where feet may stand: the printed sheet less half a foot, but at
// least the field itself; with trays, out to beyond the slots.
func sheet(r *rig.Rig) lanes.Rect {
	half := float64(r.Board.Field()) / 2
	out := half + math.Max(0, float64(r.Board.Border)-widest(r)/2)
	rect := lanes.Rect{Min: lanes.Spot{X: -out, Y: -out}, Max: lanes.Spot{X: out, Y: out}}
	switch r.Removal.Mode {
	case "tray":
		for _, s := range traySlots(r) {
			rect = rect.With(s)
		}
	case "chute":
		rect = rect.With(lanes.Spot{X: float64(r.Removal.Chute[0]), Y: float64(r.Removal.Chute[1])})
	}
	return rect
}

// widest is the largest foot, metres.
func widest(r *rig.Rig) float64 {
	p := r.Pieces
	w := 0.0
	for _, m := range []rig.Man{p.King, p.Queen, p.Bishop, p.Knight, p.Rook, p.Pawn} {
		w = math.Max(w, float64(m.Base))
	}
	return w
}

// Check says what is wrong with the numbers.
func (l Limits) Check() error {
	switch {
	case !(l.Carry.moves() && l.Travel.moves()):
		return fmt.Errorf("speeds, accelerations and jerks must be more than 0; got carry %v, travel %v", l.Carry, l.Travel)
	case !(l.Inside.Min.X < l.Inside.Max.X && l.Inside.Min.Y < l.Inside.Max.Y):
		return fmt.Errorf("the carriage reaches nothing: check axis travel, origin, walls and carriage extents")
	case !(l.SafePass >= 0 && l.SafeSpread >= 0 && l.LoweredPass >= 0 && l.Lag >= 0 && l.LagSpread >= 0 && l.Lead >= 0 && l.Placement >= 0):
		return fmt.Errorf("distances must not be negative: %+v", l)
	}
	return nil
}
