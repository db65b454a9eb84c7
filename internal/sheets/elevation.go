// SPDX-License-Identifier: Apache-2.0

package sheets

import (
	"boardhand/internal/assess/eye"
	"boardhand/internal/axes"
	"boardhand/internal/draw"
	"boardhand/internal/materials"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// elevation is the machine from a side: across it runs u, upwards z, 0 on the playing surface.
type elevation struct {
	*view
	r           *rig.Rig
	sheet       float64                           // half the board's sheet, mm
	half        float64                           // half the field, mm
	walls       [2]float64                        // inside faces, from the field's centre, mm
	body        [2]float64                        // how far the carriage sticks out to both sides, mm
	reach       [2]float64                        // of the magnet's axis, mm
	seen        float64                           // half of what the picture shows on the board, mm
	lies        func(axes.Box) (float64, float64) // where a box lies along u, mm
	boom        [2]float64                        // the upright's faces along u, mm
	withHeights bool
}

// front is the machine from White's side.
func front(o *Order) (Sheet, error) {
	r := o.Rig
	x, _ := r.Board.Half()
	reach := axes.Reach(r)
	e := elevation{r: r, half: mm(x), sheet: mm(x + r.Board.Border + r.Board.Rim), walls: [2]float64{-mm(r.Walls.Left), mm(r.Walls.Right)},
		body: [2]float64{mm(r.Carriage.Left), mm(r.Carriage.Right)}, reach: [2]float64{reach.Min.X * 1e3, reach.Max.X * 1e3},
		lies: toX, boom: [2]float64{-boomWide / 2, boomWide / 2}, withHeights: true}
	e.seen, _ = pictured(r)
	return e.draw(o, "Machine from the front", "Seen from White's side, the walls cut. The heights are all on this sheet.")
}

// side is the machine from the left, White to the right (first angle).
func side(o *Order) (Sheet, error) {
	r := o.Rig
	_, y := r.Board.Half()
	reach := axes.Reach(r)
	e := elevation{r: r, half: mm(y), sheet: mm(y + r.Board.Border + r.Board.Rim), walls: [2]float64{-mm(r.Walls.Back), mm(r.Walls.Front)},
		body: [2]float64{mm(r.Carriage.Back), mm(r.Carriage.Front)}, reach: [2]float64{-reach.Max.Y * 1e3, -reach.Min.Y * 1e3},
		lies: toSide, boom: [2]float64{-mm(r.Walls.Back+r.Walls.Depth()) - boomWide, -mm(r.Walls.Back + r.Walls.Depth())}}
	_, e.seen = pictured(r)
	return e.draw(o, "Machine from the left", "Seen from the a-file, White to the right, the walls cut; heights as on the front view.")
}

// pictured is half of what the camera's picture shows on the board along x and y, mm.
func pictured(r *rig.Rig) (x, y float64) {
	c := r.Camera
	if c.Image[0] == 0 || c.HFOV == 0 {
		return 0, 0
	}
	scale := mm(c.Height) / c.FocalPixels()
	x, y = float64(c.Image[0])/2*scale, float64(c.Image[1])/2*scale
	if c.WhiteSide == "left" || c.WhiteSide == "right" {
		x, y = y, x
	}
	return x, y
}

// The levels of the machine, mm over the playing surface.
func (e *elevation) underside() float64 { return -mm(e.r.Board.Thickness) }
func (e *elevation) floor() float64     { return e.underside() - mm(e.r.Walls.Height) }
func (e *elevation) raised() float64    { return e.underside() - mm(e.r.Lift.Air) }
func (e *elevation) lowered() float64   { return e.raised() - mm(e.r.Lift.Drop) }
func (e *elevation) feet() float64      { return e.lowered() - mm(e.r.Carriage.Height) }

func (e *elevation) draw(o *Order, name, use string) (Sheet, error) {
	r := e.r
	t := mm(r.Walls.Depth())
	in := extent{min(-e.sheet, e.walls[0]-t, -e.seen), min(e.floor(), e.feet()), max(e.sheet, e.walls[1]+t, e.seen), mm(r.Camera.Height) + 12}
	in.x0, in.y1 = min(in.x0, e.boom[0]), max(in.y1, e.floor()+mm(o.Parts.Boom.Upright))
	p := axes.PlacesOf(r)
	high := func(b axes.Box) (float64, float64) { return e.floor() + mm(b.Min[2]), e.floor() + mm(b.Max[2]) }
	in = in.with(p, e.lies, high)
	dims := [4]int{1, 1, 2, 0} // above, the remark too
	if e.withHeights {
		dims = [4]int{1, 2, 1, 3}
	}
	if e.view = newView(o.Paper, in, dims); e.view == nil {
		return Sheet{}, tooLarge(o.Paper, in)
	}
	e.cut(e.walls[0]-t, e.floor(), e.walls[0], e.underside())
	e.cut(e.walls[1], e.floor(), e.walls[1]+t, e.underside())
	e.cut(-e.sheet, e.underside(), e.sheet, 0)
	e.line(in.x0, e.floor(), in.x1, e.floor(), draw.Outline)
	e.line(0, in.y0, 0, in.y1, draw.Centre)
	e.parts(p, draw.Fine, e.lies, high)
	e.remark(assumedNote(p))
	e.carriage()
	e.pieces()
	e.camera()
	e.holds(o.Parts.Boom)
	if e.withHeights {
		e.heights()
	}
	if e.feet() < e.floor() {
		e.Write(draw.Word{X: e.x(0), Y: e.y(e.feet()) + letter + 1, Text: "The carriage is " + written(e.floor()-e.feet()) + " mm too high for the walls", Size: letter, At: draw.Middle, Signal: true})
	}
	return e.sheetOf(name, use), nil
}

func (e *elevation) sheetOf(name, use string) Sheet { return e.view.sheet(name, use) }

// carriage draws it at both ends of its way, the magnet lowered, and in the middle with the
// magnet raised, too.
func (e *elevation) carriage() {
	half, thick := mm(e.r.Lift.Diameter)/2, mm(e.r.Lift.Thickness)
	for _, u := range e.reach {
		e.box(u-e.body[0], e.feet(), u+e.body[1], e.lowered(), draw.Extreme)
		e.box(u-half, e.lowered()-thick, u+half, e.lowered(), draw.Extreme)
	}
	e.box(-e.body[0], e.feet(), e.body[1], e.lowered(), draw.Outline)
	e.box(-half, e.lowered()-thick, half, e.lowered(), draw.Outline)
	e.box(-half, e.raised()-thick, half, e.raised(), draw.Extreme)
}

// pieces draws the tallest kind on the outermost squares, and how far it leans over the board
// in the picture.
func (e *elevation) pieces() {
	tall := eye.Tallest(e.r)
	b, h, cam := mm(tall.Base)/2, mm(tall.Height), mm(e.r.Camera.Height)
	at := e.half - mm(e.r.Board.Square)/2
	for _, sign := range []float64{-1, 1} {
		u := sign * at
		e.Line([]float64{e.x(u - b), e.x(u - b), e.x(u - 0.45*b), e.x(u + 0.45*b), e.x(u + b), e.x(u + b)},
			[]float64{e.y(0), e.y(0.1 * h), e.y(h), e.y(h), e.y(0.1 * h), e.y(0)}, draw.Outline)
		if head := u + sign*0.45*b; cam > h {
			e.line(0, cam, head*cam/(cam-h), 0, draw.Fine)
		}
	}
}

// camera draws it with the edges of its picture on the board.
func (e *elevation) camera() {
	cam := mm(e.r.Camera.Height)
	const half = 12.0
	e.box(-half, cam, half, cam+cameraHigh, draw.Outline)
	for _, sign := range []float64{-1, 1} {
		if u := sign * e.seen; u != 0 {
			e.line(0, cam, u, 0, draw.Centre)
		}
	}
	if e.seen != 0 {
		e.across(below, 0, e.seen, 0, "picture "+written(e.seen))
	}
}

// holds draws the boom: its upright on the back wall and the arm to the camera, from its end or
// from the side.
func (e *elevation) holds(b materials.Boom) {
	if b.Upright == 0 {
		return
	}
	foot, top := e.floor(), e.floor()+mm(b.Upright)
	arm := mm(e.r.Camera.Height) + cameraHigh // its lower face
	if e.withHeights {                        // the machine stands before it
		e.box(e.boom[0], arm, e.boom[1], arm+boomWide, draw.Outline)
		e.line(e.boom[0], arm+boomWide, e.boom[0], top, draw.Outline)
		e.line(e.boom[1], arm+boomWide, e.boom[1], top, draw.Outline)
		e.line(e.boom[0], top, e.boom[1], top, draw.Outline)
		e.line(e.boom[0], 0, e.boom[0], arm, draw.Hidden)
		e.line(e.boom[1], 0, e.boom[1], arm, draw.Hidden)
		return
	}
	e.box(e.boom[0], foot, e.boom[1], top, draw.Outline)
	e.box(e.boom[1], arm, e.boom[1]+mm(b.Arm), arm+boomWide, draw.Outline)
	e.upright(toLeft, foot, top, e.boom[0], "boom "+written(mm(b.Upright)))
	e.view.across(above, e.boom[1], e.boom[1]+mm(b.Arm), arm+boomWide, "arm "+written(mm(b.Arm)))
}

// heights are all upright dimensions.
func (e *elevation) heights() {
	r := e.r
	e.upright(toLeft, e.floor(), e.underside(), e.walls[0]-mm(r.Walls.Depth()), written(mm(r.Walls.Height)))
	e.upright(toLeft, 0, mm(r.Camera.Height), -14, "camera "+written(mm(r.Camera.Height)))
	tall := eye.Tallest(r)
	at := e.half - mm(r.Board.Square)/2
	e.upright(toRight, 0, mm(tall.Height), at+mm(tall.Base)/2, written(mm(tall.Height)))
	e.upright(toRight, e.feet(), e.lowered(), e.reach[1]+e.body[1], written(mm(r.Carriage.Height)))
	if left := e.feet() - e.floor(); left > 0 {
		e.upright(toRight, e.floor(), e.feet(), e.reach[1]+e.body[1], written(left))
	}
}

// lift is the stack of magnet, board and base at its own scale: what must be set upright to a
// tenth of a millimetre.
func lift(o *Order) (Sheet, error) {
	r := o.Rig
	e := elevation{r: r}
	half, thick := mm(r.Lift.Diameter)/2, mm(r.Lift.Thickness)
	base, m := mm(r.Pieces.Widest())/2, r.Pieces.Magnet
	wide := 2.2 * max(half, base)
	in := extent{-wide, e.lowered() - thick - 2, wide, mm(m.Recess+m.Thickness) + 4}
	v := newView(o.Paper, in, [4]int{1, 4, 2, 4})
	if v == nil {
		return Sheet{}, tooLarge(o.Paper, in)
	}
	v.cut(-wide, e.underside(), wide, 0)
	v.line(0, in.y0, 0, in.y1, draw.Centre)
	v.box(-half, e.raised()-thick, half, e.raised(), draw.Outline)
	v.box(-half, e.lowered()-thick, half, e.lowered(), draw.Extreme)
	v.box(-base, 0, base, mm(m.Recess+m.Thickness)+2, draw.Outline)
	v.box(-mm(m.Diameter)/2, mm(m.Recess), mm(m.Diameter)/2, mm(m.Recess+m.Thickness), draw.Outline)
	v.across(below, -half, half, e.lowered()-thick, "Ø "+written(2*half))
	v.across(above, -mm(m.Diameter)/2, mm(m.Diameter)/2, mm(m.Recess+m.Thickness), "Ø "+written(mm(m.Diameter)))
	v.across(above, -base, base, mm(m.Recess+m.Thickness)+2, "widest base Ø "+written(2*base))
	for _, d := range []struct {
		side     int
		from, to float64
		text     unit.Length
	}{
		{toLeft, e.underside(), 0, r.Board.Thickness},
		{toLeft, e.raised() - thick, e.raised(), r.Lift.Thickness},
		{toLeft, e.lowered(), e.raised(), r.Lift.Drop},
		{toRight, mm(m.Recess), mm(m.Recess + m.Thickness), m.Thickness},
		{toRight, 0, mm(m.Recess), m.Recess},
		{toRight, e.raised(), e.underside(), r.Lift.Air},
	} {
		reach := -half
		if d.side == toRight {
			reach = half
		}
		v.upright(d.side, d.from, d.to, reach, written(mm(d.text)))
	}
	v.point(half/2, e.raised()-thick/2, 30, 12, "drive magnet, "+r.Lift.Grade+", raised")
	v.point(half/2, e.lowered()-thick/2, 30, 8, "lowered")
	v.point(wide*0.85, e.underside()/2, 12, -14, "board")
	v.point(mm(m.Diameter)/4, mm(m.Recess+m.Thickness/2), 30, -26, "magnet in the base, "+m.Grade)
	return v.sheet("Lift: magnet, board and base", "The drive magnet raised, and dash-dotted lowered; the air under a flat board is what the spring keeps."), nil
}
