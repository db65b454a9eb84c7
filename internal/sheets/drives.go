// SPDX-License-Identifier: Apache-2.0

package sheets

import (
	"fmt"
	"math"
	"strings"

	"boardhand/internal/axes"
	"boardhand/internal/draw"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// measured is one dimension of a view, by the side that it is written on.
type measured struct {
	side            int
	from, to, reach float64
	text            string
}

// laid is a view of guides, drives and motors with the dimensions that it is to have.
type laid struct {
	*view
	r     *rig.Rig
	p     *axes.Places
	notes []string
	lacks []string
	dims  []measured
	low   int // lines kept free below: for words that hang over
}

// open lays the view on a page, with room for its dimensions and, above, for its notes.
func (l *laid) open(o *Order, in extent) error {
	lines := [4]int{below: l.low}
	for _, d := range l.dims {
		lines[d.side]++
	}
	for _, n := range append(l.notes, l.lacks...) {
		lines[above] += len(wrapped(n, o.Paper.W-marginLeft-margin-4))
	}
	if l.view = newView(o.Paper, in, lines); l.view == nil {
		return tooLarge(o.Paper, in)
	}
	r := room(l.W, l.H)
	y := r.Y0
	for i, n := range append(l.notes, l.lacks...) {
		for _, text := range wrapped(n, r.X1-r.X0) {
			y += lineStep
			l.Write(draw.Word{X: r.X0, Y: y, Text: text, Size: letter, Signal: i >= len(l.notes), Bold: i >= len(l.notes)})
		}
	}
	return nil
}

// measureAll draws the dimensions, each side from the view outwards.
func (l *laid) measureAll() {
	for _, d := range l.dims {
		if d.side == below || d.side == above {
			l.across(d.side, d.from, d.to, d.reach, d.text)
		} else {
			l.upright(d.side, d.from, d.to, d.reach, d.text)
		}
	}
}

// add puts a dimension on the list, where there is something to measure.
func (l *laid) add(side int, from, to, reach float64, name string) {
	if math.Abs(to-from) < 0.05 {
		return
	}
	l.dims = append(l.dims, measured{side, min(from, to), max(from, to), reach, strings.TrimSpace(name + " " + written(math.Abs(to-from)))})
}

// pair measures two middles: between them where the field's centre is half-way, else each from
// there.
func (l *laid) pair(side int, at [2]unit.Length, reach float64, name string) {
	if max(at[0]+at[1], -at[0]-at[1]) < 0.05e-3 {
		l.add(side, mm(at[0]), mm(at[1]), reach, name)
		return
	}
	l.add(side, 0, mm(at[0]), reach, name)
	l.add(side, 0, mm(at[1]), reach, name)
}

// laidOut is a view of a rig's places, with what the rig does not say of them.
func laidOut(o *Order) *laid {
	l := &laid{r: o.Rig, p: axes.PlacesOf(o.Rig)}
	if keys := assumed(l.p); len(keys) > 0 {
		l.notes = []string{"Assumed, as the rig file does not give them: " + strings.Join(keys, ", ") + "."}
	}
	for _, c := range l.p.Clearances() {
		if mm(c.Left) < -0.05 {
			l.lacks = append(l.lacks, fmt.Sprintf("No room: %s lacks %s mm to the %s.", c.Part, written(-mm(c.Left)), c.To))
		}
	}
	return l
}

// assumed lists the keys of places that a rig does not give.
func assumed(p *axes.Places) (out []string) {
	for _, a := range p.Axes {
		switch n := len(a.Assumed); {
		case n == 7:
			out = append(out, fmt.Sprintf("axis.%s.rails", a.Axis))
		case n > 0:
			out = append(out, fmt.Sprintf("axis.%s.rails %s", a.Axis, strings.Join(a.Assumed, ", ")))
		}
	}
	for _, m := range p.Motors {
		key := "axis." + m.Name + ".motor"
		if m.Name == "lift" {
			key = "lift.motor"
		}
		if m.Assumed {
			out = append(out, key+".at")
		}
		if !m.Sized {
			out = append(out, key+".body")
		}
	}
	return out
}

// assumedNote is said on views that show places which the rig does not give.
func assumedNote(p *axes.Places) string {
	if len(assumed(p)) == 0 {
		return ""
	}
	return "Some places of guides, drives and motors are assumed: the sheet of drives says which."
}

// remark writes a line at the top of a page.
func (v *view) remark(text string) {
	if r := room(v.W, v.H); text != "" {
		v.Write(draw.Word{X: r.X0, Y: r.Y0 + lineStep, Text: text, Size: letter})
	}
}

// drives is guides, drives and motors from above, the board taken off.
func drives(o *Order) (Sheet, error) {
	l := laidOut(o)
	p, t := l.p, mm(l.p.Depth)
	x, y := p.Axes[0], p.Axes[1]
	w := [4]float64{mm(p.Inside.Min[0]), mm(p.Inside.Min[1]), mm(p.Inside.Max[0]), mm(p.Inside.Max[1])}
	in := extent{w[0] - t, w[1] - t, w[2] + t, w[3] + t}.with(p, toX, toY)
	l.pair(below, y.Rails, mm(y.Ends[0]), "guides")
	l.rows(below, y, mm(y.RowEnds[0]))
	l.pair(toRight, x.Rails, mm(x.Ends[1]), "guides")
	l.rows(toRight, x, mm(x.RowEnds[1]))
	l.along(above, x, mm(x.Rails[1]))
	l.along(toLeft, y, mm(y.Rails[0]))
	for _, m := range p.Motors {
		at := m.Box.Middle()
		l.add(below, 0, mm(at[0]), mm(m.Box.Min[1]), m.Name+" motor")
		l.add(toRight, 0, mm(at[1]), mm(m.Box.Max[0]), m.Name+" motor")
	}
	if err := l.open(o, in); err != nil {
		return Sheet{}, err
	}
	l.cut(w[0]-t, w[1]-t, w[0], w[3]+t)
	l.cut(w[2], w[1]-t, w[2]+t, w[3]+t)
	l.cut(w[0], w[1]-t, w[2], w[1])
	l.cut(w[0], w[3], w[2], w[3]+t)
	l.line(in.x0, 0, in.x1, 0, draw.Centre)
	l.line(0, in.y0, 0, in.y1, draw.Centre)
	s, c := p.Sweep, p.Carriage
	l.box(mm(s.Min[0]), mm(s.Min[1]), mm(s.Max[0]), mm(s.Max[1]), draw.Extreme)
	l.box(mm(c.Min[0]), mm(c.Min[1]), mm(c.Max[0]), mm(c.Max[1]), draw.Outline)
	l.fromAbove(draw.Outline)
	l.called()
	l.measureAll()
	return l.view.sheet("Guides, drives and motors", "Seen from above, the board taken off, the magnet under the field's centre. All lies as long as it says around the middle of its axis' travel."), nil
}

// with is an extent that holds the parts outside the walls too, as they are seen from one side.
func (in extent) with(p *axes.Places, u, w func(axes.Box) (float64, float64)) extent {
	for _, t := range p.Parts() {
		u0, u1 := u(t.Box)
		w0, w1 := w(t.Box)
		in = extent{min(in.x0, u0), min(in.y0, w0), max(in.x1, u1), max(in.y1, w1)}
	}
	return in
}

// kind is what drives an axis, in a word.
func kind(r *rig.Rig, axis string) string { return axes.Named(r, axis).Drive }

// rows measures the racks, belts or screws of an axis across it.
func (l *laid) rows(side int, a axes.Place, reach float64) {
	name := kind(l.r, a.Axis)
	if len(a.Rows) == 2 {
		l.pair(side, [2]unit.Length(a.Rows), reach, name+"s")
		return
	}
	for _, at := range a.Rows {
		l.add(side, 0, mm(at), reach, name)
	}
}

// along measures guides and drives along their axis: their length, and where their middle is
// not the field's centre how far one end is from there.
func (l *laid) along(side int, a axes.Place, reach float64) {
	l.add(side, mm(a.RowEnds[0]), mm(a.RowEnds[1]), reach, map[string]string{"rack": "rack", "belt": "pulleys' axes", "screw": "screw"}[kind(l.r, a.Axis)])
	l.add(side, mm(a.Ends[0]), mm(a.Ends[1]), reach, "guides")
	if math.Abs(mm(a.Ends[0]+a.Ends[1])) > 0.1 {
		l.add(side, 0, mm(a.Ends[1]), reach, "end of guides")
	}
}

// parts draws guides, drives and motors as they are seen from one side.
func (v *view) parts(p *axes.Places, i draw.Ink, u, w func(axes.Box) (float64, float64)) {
	for _, t := range p.Parts() {
		u0, u1 := u(t.Box)
		w0, w1 := w(t.Box)
		if t.Guide && math.Abs((u1-u0)-(w1-w0)) < 1e-6 { // seen along
			v.circle((u0+u1)/2, (w0+w1)/2, (u1-u0)/2, i)
			continue
		}
		if t.Rides == [2]bool{true, true} {
			v.box(u0, w0, u1, w1, draw.Hidden) // in the carriage
			continue
		}
		v.box(u0, w0, u1, w1, i)
	}
}

// Where a box lies to the right, to the back, to the right as seen from file a, and upwards, mm.
func toX(b axes.Box) (float64, float64)    { return mm(b.Min[0]), mm(b.Max[0]) }
func toY(b axes.Box) (float64, float64)    { return mm(b.Min[1]), mm(b.Max[1]) }
func toSide(b axes.Box) (float64, float64) { return -mm(b.Max[1]), -mm(b.Min[1]) }
func upwards(b axes.Box) (float64, float64) {
	return mm(b.Min[2]), mm(b.Max[2])
}

// fromAbove draws them in the plane, and the shaft of a motor that drives several rows.
func (l *laid) fromAbove(i draw.Ink) {
	l.parts(l.p, i, toX, toY)
	for _, a := range l.p.Axes {
		n := len(a.Rows)
		if m := l.p.Motors[1]; a.Axis == "y" && n > 1 { // one motor, a shaft to all rows
			y := mm(m.Box.Middle()[1])
			l.line(mm(a.Rows[0]), y, mm(a.Rows[n-1]), y, draw.Centre)
		}
	}
}

// called names the parts.
func (l *laid) called() {
	x, y := l.p.Axes[0], l.p.Axes[1]
	round := func(a axes.Place) string { return fmt.Sprintf("%s guide, Ø%s", a.Axis, written(mm(a.Diameter))) }
	l.point(mm(y.Rails[0]), mm(y.Ends[0])*0.75, 9, -5, round(y))
	l.point(mm(y.Rows[0]), mm(y.RowEnds[0])*0.5, 9, -5, "y "+kind(l.r, "y"))
	l.point(mm(x.Ends[1])*0.8, mm(x.Rails[0]), -4, 9, round(x))
	l.point(mm(x.RowEnds[1])*0.3, mm(x.Rows[0]), 5, -14, "x "+kind(l.r, "x"))
	for k, m := range l.p.Motors {
		at := m.Box.Middle()
		dx, dy := [3]float64{6, 6, 5}[k], [3]float64{-20, 9, 18}[k]
		if m.Rides == [2]bool{false, true} && math.Abs(float64(at[0])) < 1e-3 { // behind the carriage
			dx, dy = -9, -9
		}
		if l.p.Outside(m) {
			dx, dy = 9, -3
		}
		l.point(mm(at[0]), mm(at[1]), dx, dy, m.Name+" motor")
	}
}

// levels is the box from the front, cut: how high guides, drives and motors lie over the floor.
func levels(o *Order) (Sheet, error) {
	l := laidOut(o)
	l.notes, l.low = nil, 3 // notes stand on the sheet before; low heights are written below
	p, t, thick := l.p, mm(l.p.Depth), mm(l.r.Board.Thickness)
	left, right, under := mm(p.Inside.Min[0]), mm(p.Inside.Max[0]), mm(p.Inside.Max[2])
	in := extent{left - t, -2, right + t, under + thick}.with(p, toX, upwards)
	x, y := p.Axes[0], p.Axes[1]
	l.add(toLeft, 0, mm(y.Height), mm(y.Rails[0]), "y guides")
	l.add(toLeft, 0, mm(y.RowHeight), mm(y.Rows[0]), "y "+kind(l.r, "y"))
	l.add(toRight, 0, mm(x.Height), mm(x.Ends[1]), "x guides")
	l.add(toRight, 0, mm(x.RowHeight), mm(x.RowEnds[1]), "x "+kind(l.r, "x"))
	for k, m := range p.Motors {
		side, reach := [3]int{toLeft, toRight, toRight}[k], mm(m.Box.Max[0])
		if side == toLeft {
			reach = mm(m.Box.Min[0])
		}
		l.add(side, 0, mm(m.Box.Middle()[2]), reach, m.Name+" motor")
	}
	if err := l.open(o, in); err != nil {
		return Sheet{}, err
	}
	l.cut(left-t, 0, left, under)
	l.cut(right, 0, right+t, under)
	bx, _ := l.r.Board.Sheet()
	l.cut(-min(mm(bx), -in.x0), under, min(mm(bx), in.x1), under+thick)
	l.line(in.x0, 0, in.x1, 0, draw.Outline)
	l.line(0, in.y0, 0, in.y1, draw.Centre)
	c := p.Carriage
	l.box(mm(c.Min[0]), mm(c.Min[2]), mm(c.Max[0]), mm(c.Max[2]), draw.Extreme)
	l.parts(p, draw.Outline, toX, upwards)
	l.measureAll()
	return l.view.sheet("Guides, drives and motors: heights", "Seen from White's side, the walls cut, the magnet lowered under the field's centre: middles over the floor."), nil
}
