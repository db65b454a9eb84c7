// SPDX-License-Identifier: Apache-2.0

package sheets

import (
	"fmt"
	"math"

	"boardhand/internal/axes"
	"boardhand/internal/draw"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
)

// plan is the machine from above, White in front: what must be set sideways.
func plan(o *Order) (Sheet, error) {
	r := o.Rig
	b, w := r.Board, r.Walls
	halfX, halfY := b.Half()
	wide, deep := mm(halfX+b.Border), mm(halfY+b.Border)
	t := mm(w.Depth())
	in := extent{min(-wide, -mm(w.Left)-t), min(-deep, -mm(w.Front)-t), max(wide, mm(w.Right)+t), max(deep, mm(w.Back)+t)}
	p := axes.PlacesOf(r)
	in = in.with(p, toX, toY)
	v := newView(o.Paper, in, planLines(r))
	if v == nil {
		return Sheet{}, tooLarge(o.Paper, in)
	}
	v.box(-mm(w.Left), -mm(w.Front), mm(w.Right), mm(w.Back), draw.Hidden)
	v.box(-mm(w.Left)-t, -mm(w.Front)-t, mm(w.Right)+t, mm(w.Back)+t, draw.Outline)
	v.box(-wide, -deep, wide, deep, draw.Outline)
	v.field(b)
	v.parts(p, draw.Hidden, toX, toY)
	v.remark(assumedNote(p))
	v.line(in.x0, 0, in.x1, 0, draw.Centre)
	v.line(0, in.y0, 0, in.y1, draw.Centre)
	v.carriages(r)
	v.removal(r)
	v.planDimensions(r)
	return v.sheet("Machine from above", "Seen from above, White in front. Set walls, axes and board by it; the carriage is shown where it gets to in each corner."), nil
}

// planLines is how many dimension lines the plan has below, left, above and right.
func planLines(r *rig.Rig) [4]int {
	n := [4]int{4, 2, 4, 2} // above, a line for the remark
	if r.Board.Ranks != r.Board.Files {
		n[toLeft] += 2
	}
	switch {
	case r.Removal.Mode == "tray":
		n[above]++
		n[toLeft]++
	case r.Removal.Mode == "chute":
		n[above]++
		if chute(r).Y != 0 {
			n[toLeft]++
		}
	}
	return n
}

// field draws the squares.
func (v *view) field(b rig.Board) {
	s := mm(b.Square)
	x0, y0 := -float64(b.Files)*s/2, -float64(b.Ranks)*s/2
	for i := range b.Files + 1 {
		v.line(x0+float64(i)*s, y0, x0+float64(i)*s, -y0, draw.Fine)
	}
	for i := range b.Ranks + 1 {
		v.line(x0, y0+float64(i)*s, -x0, y0+float64(i)*s, draw.Fine)
	}
	v.say(x0+0.35*s, y0+0.75*s, "a1") // the magnet's circle may lie in the middle, an edge of the carriage at the side
	v.say(-x0-0.35*s, -y0-0.75*s, fmt.Sprintf("%c%d", 'a'+b.Files-1, b.Ranks))
}

// carriages draws the carriage in the four corners of its reach, and the reach of the magnet's
// axis.
func (v *view) carriages(r *rig.Rig) {
	reach, c := axes.Reach(r), r.Carriage
	x0, y0, x1, y1 := reach.Min.X*1e3, reach.Min.Y*1e3, reach.Max.X*1e3, reach.Max.Y*1e3
	v.box(x0, y0, x1, y1, draw.Centre)
	for _, x := range []float64{x0, x1} {
		for _, y := range []float64{y0, y1} {
			v.box(x-mm(c.Left), y-mm(c.Front), x+mm(c.Right), y+mm(c.Back), draw.Extreme)
			v.circle(x, y, mm(r.Lift.Diameter)/2, draw.Fine)
		}
	}
}

// removal draws the slots or the trapdoor.
func (v *view) removal(r *rig.Rig) {
	radius := mm(r.Pieces.Widest()) / 2
	for _, at := range r.Slots() {
		v.circle(at.X*1e3, at.Y*1e3, radius, draw.Fine)
	}
	if r.Removal.Mode == "chute" {
		at := chute(r)
		v.circle(at.X*1e3, at.Y*1e3, 1.2*radius, draw.Outline)
	}
}

// chute is the middle of the trapdoor.
func chute(r *rig.Rig) frame.Spot[frame.Board] {
	return frame.Spot[frame.Board]{X: float64(r.Removal.Chute[0]), Y: float64(r.Removal.Chute[1])}
}

// planDimensions are all that is set sideways, each once, from the field's centre where a
// thing may lie off it.
func (v *view) planDimensions(r *rig.Rig) {
	b, w, c := r.Board, r.Walls, r.Carriage
	s := mm(b.Square)
	halfX, halfY := float64(b.Files)*s/2, float64(b.Ranks)*s/2
	wide, deep := halfX+mm(b.Border), halfY+mm(b.Border)
	reach := axes.Reach(r)
	field := func(n int) string { return fmt.Sprintf("%d × %s = %s", n, written(s), written(float64(n)*s)) }

	// what lies off the centre first: its extension lines would cross the words of the others
	v.across(below, -mm(w.Left), 0, -mm(w.Front), written(mm(w.Left)))
	v.acrossAt(below, dimensionFirst, 0, mm(w.Right), -mm(w.Front), written(mm(w.Right)))
	v.across(below, -halfX, halfX, -halfY, field(b.Files))
	v.acrossAt(below, dimensionFirst+dimensionStep, halfX, wide, -deep, written(mm(b.Border)))
	v.across(below, -wide, wide, -deep, written(2*wide))
	if outer := mm(w.Left+w.Right) + 2*mm(w.Depth()); math.Abs(outer-2*wide) > 0.05 || w.Left != w.Right { // not the board's
		v.across(below, -mm(w.Left)-mm(w.Depth()), mm(w.Right)+mm(w.Depth()), -mm(w.Front)-mm(w.Depth()), written(outer))
	}

	v.upright(toLeft, -mm(w.Front), 0, -mm(w.Left), written(mm(w.Front)))
	v.uprightAt(toLeft, dimensionFirst, 0, mm(w.Back), -mm(w.Left), written(mm(w.Back)))
	if b.Ranks != b.Files {
		v.upright(toLeft, -halfY, halfY, -halfX, field(b.Ranks))
		v.upright(toLeft, -deep, deep, -wide, written(2*deep))
	}
	v.upright(toLeft, -mm(w.Front)-mm(w.Depth()), mm(w.Back)+mm(w.Depth()), -mm(w.Left)-mm(w.Depth()), written(mm(w.Front+w.Back)+2*mm(w.Depth())))

	v.across(above, reach.Min.X*1e3, 0, reach.Max.Y*1e3, "axis "+written(-reach.Min.X*1e3))
	v.acrossAt(above, dimensionFirst, 0, reach.Max.X*1e3, reach.Max.Y*1e3, "axis "+written(reach.Max.X*1e3))
	x, y := reach.Max.X*1e3, reach.Max.Y*1e3
	v.across(above, x-mm(c.Left), x, y+mm(c.Back), written(mm(c.Left)))
	v.across(above, x, x+mm(c.Right), y+mm(c.Back), written(mm(c.Right)))

	v.removalDimensions(r)
	v.upright(toRight, reach.Min.Y*1e3, 0, reach.Max.X*1e3, "axis "+written(-reach.Min.Y*1e3))
	v.uprightAt(toRight, dimensionFirst, 0, reach.Max.Y*1e3, reach.Max.X*1e3, "axis "+written(reach.Max.Y*1e3))
	x, y = reach.Max.X*1e3, reach.Min.Y*1e3
	v.upright(toRight, y-mm(c.Front), y, x+mm(c.Right), written(mm(c.Front)))
	v.uprightAt(toRight, dimensionFirst+dimensionStep, y, y+mm(c.Back), x+mm(c.Right), written(mm(c.Back)))
}

// removalDimensions say where slots or trapdoor lie: slots from the field's edge and from each
// other, the trapdoor from the field's centre.
func (v *view) removalDimensions(r *rig.Rig) {
	halfX, _ := r.Board.Half()
	switch slots := r.Slots(); {
	case len(slots) > 0:
		top := slots[len(slots)/2-1]
		v.across(above, top.X*1e3, -mm(halfX), top.Y*1e3, written(mm(r.Removal.Gap)))
		if len(slots) > 2 {
			pitch := (slots[1].Y - slots[0].Y) * 1e3
			n := len(slots) / 2
			v.upright(toLeft, slots[0].Y*1e3, slots[n-1].Y*1e3, slots[0].X*1e3, fmt.Sprintf("%d × %s", n-1, written(pitch)))
		}
	case r.Removal.Mode == "chute":
		at := chute(r)
		v.across(above, min(0, at.X*1e3), max(0, at.X*1e3), at.Y*1e3, written(at.X*1e3))
		if at.Y != 0 {
			v.upright(toLeft, min(0, at.Y*1e3), max(0, at.Y*1e3), at.X*1e3, written(at.Y*1e3))
		}
	}
}
