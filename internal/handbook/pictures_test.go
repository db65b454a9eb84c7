// SPDX-License-Identifier: Apache-2.0

package handbook_test

import (
	"fmt"
	"math"
	"path/filepath"
	"testing"

	"boardhand/internal/assess"
	"boardhand/internal/coupling"
	"boardhand/internal/draw"
	"boardhand/internal/golden"
	"boardhand/internal/optics"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// The manual's pictures are those that are drawn here of the commented rig, and nothing
// leaves its sheet.
func TestPictures(t *testing.T) {
	for file, made := range map[string]func(*testing.T) *draw.Drawing{"stack.svg": stack, "pull.svg": pull, "lean.svg": lean} {
		d := made(t)
		if b := d.Bounds(); !b.Within(draw.Rect{X1: d.W, Y1: d.H}) {
			t.Errorf("%s leaves its sheet: %+v", file, b)
		}
		words := d.Words()
		for i, w := range words {
			for _, o := range words[:i] {
				if w.Box().Overlaps(o.Box()) {
					t.Errorf("%s: %q lies over %q", file, w.Text, o.Text)
				}
			}
		}
		golden.File(t, filepath.Join(docs, file), d.SVG())
	}
}

// pen draws with points in pairs.
type pen struct{ *draw.Drawing }

func (p pen) line(i draw.Ink, pairs ...float64) {
	var x, y []float64
	for k := 0; k+1 < len(pairs); k += 2 {
		x, y = append(x, pairs[k]), append(y, pairs[k+1])
	}
	p.Line(x, y, i)
}

func (p pen) box(i draw.Ink, x0, y0, x1, y1 float64) {
	p.line(i, x0, y0, x1, y0, x1, y1, x0, y1, x0, y0)
}

func (p pen) say(x, y float64, at draw.Anchor, text string, args ...any) {
	p.Write(draw.Word{X: x, Y: y, Text: fmt.Sprintf(text, args...), Size: 3.2, At: at})
}

// span is a dimension from place to place along a level line.
func (p pen) span(i draw.Ink, x0, x1, y float64) {
	p.line(i, x0, y, x1, y)
	p.line(i, x0, y-1.5, x0, y+1.5)
	p.line(i, x1, y-1.5, x1, y+1.5)
}

var signal = draw.Ink{Width: 0.5, Signal: true}

// coupled are the commented rig and the forces of its magnets.
func coupled(t *testing.T) (*rig.Rig, coupling.Coupling) {
	t.Helper()
	r := rig.Default()
	c, err := coupling.Of(r)
	if err != nil {
		t.Fatal(err)
	}
	return r, c
}

// stack is a cut through board and magnets at twice their size: a piece over the raised
// magnet, and its neighbour.
func stack(t *testing.T) *draw.Drawing {
	r, c := coupled(t)
	pawn := c.Lightest()
	var dragged assess.Check
	for _, line := range assess.Judge(r) {
		if line.ID == "neighbours.raised" {
			dragged = line
		}
	}
	const top, axis = 46.0, 64.0 // of the board, and of the magnet
	p := pen{&draw.Drawing{W: 178, H: 112}}
	mm := func(l unit.Length) float64 { return 2 * l.MM() }
	under := top + mm(r.Board.Thickness)
	p.box(draw.Outline, 6, top, 172, under)
	for x := 8.0; x < 170; x += 4 {
		p.line(draw.Fine, x, under, min(x+mm(r.Board.Thickness), 172), max(top, under-172+x))
	}
	m, piece := r.Pieces.Magnet, r.Pieces.Of(pawn)
	for _, x := range []float64{axis, axis + mm(r.Board.Square)} {
		p.line(draw.Outline, x-mm(piece.Base)/2, top, x-mm(piece.Base)/2, top-11, x-6, top-17, x-6, top-28, x+6, top-28, x+6, top-17, x+mm(piece.Base)/2, top-11, x+mm(piece.Base)/2, top)
		floor := top - mm(m.Recess)
		p.box(draw.Outline, x-mm(m.Diameter)/2, floor-mm(m.Thickness), x+mm(m.Diameter)/2, floor)
	}
	face, wide, tall := under+mm(r.Lift.Air), mm(r.Lift.Diameter)/2, mm(r.Lift.Thickness)
	p.box(draw.Outline, axis-wide, face, axis+wide, face+tall)
	low := face + mm(r.Lift.Drop)
	p.box(draw.Extreme, axis-wide, low, axis+wide, low+tall)
	p.line(draw.Centre, axis, top-34, axis, low+tall+4)
	p.span(draw.Fine, axis, axis+mm(r.Board.Square), 13)
	p.say(axis+mm(r.Board.Square)/2, 11, draw.Middle, "one square: %v", r.Board.Square)
	p.span(signal, axis, axis+2*dragged.Value, top-6)
	p.Write(draw.Word{X: axis + 16, Y: top - 8, Text: fmt.Sprintf("drags others within %.1f mm", dragged.Value), Size: 3.2, Signal: true})
	p.say(axis+wide+6, face+4, draw.Left, "drive magnet %v × %v, raised:", r.Lift.Diameter, r.Lift.Thickness)
	p.say(axis+wide+6, face+8.5, draw.Left, "%v from face to face", r.Gap())
	p.say(axis+wide+6, low+5, draw.Left, "lowered by %v", r.Lift.Drop)
	p.say(8, top-22, draw.Left, "magnet %v × %v,", m.Diameter, m.Thickness)
	p.say(8, top-17.5, draw.Left, "%v above", m.Recess)
	p.say(8, top-13, draw.Left, "the surface")
	return p.Drawing
}

// pull is a chart: what pulls a piece back over the magnet, against its friction.
func pull(t *testing.T) *draw.Drawing {
	r, c := coupled(t)
	s := c.Stand(c.Heaviest())
	lag, err := s.Lag(s.Static, 0)
	if err != nil {
		t.Fatal(err)
	}
	best, err := s.Best(s.Static)
	if err != nil {
		t.Fatal(err)
	}
	const left, floor, wide, high, far, most = 18.0, 84.0, 120.0, 72.0, 16.0, 0.45 // mm of paper; mm, N
	p := pen{&draw.Drawing{W: 150, H: 98}}
	x := func(mm float64) float64 { return left + wide*mm/far }
	y := func(n float64) float64 { return floor - high*n/most }
	p.line(draw.Outline, left, floor-high, left, floor, left+wide, floor)
	for mm := 0.0; mm <= far; mm += 4 {
		p.say(x(mm), floor+5, draw.Middle, "%g", mm)
	}
	for n := 0.0; n < most; n += 0.2 {
		p.say(left-2, y(n)+1, draw.Right, "%.1f", n)
	}
	p.say(left+wide, floor+11, draw.Right, "distance of the piece from the magnet's axis, mm")
	p.say(left-2, 9, draw.Right, "N")
	var pulls, rubs []float64
	for mm := 0.0; mm <= far; mm += 0.25 {
		f, err := s.Pull.At(float64(s.Gap), mm*1e-3)
		if err != nil {
			t.Fatal(err)
		}
		pulls, rubs = append(pulls, x(mm), y(math.Max(0, f.Lateral))), append(rubs, x(mm), y(s.Static*s.Normal(f)))
	}
	p.line(draw.Outline, pulls...)
	p.line(draw.Hidden, rubs...)
	f, err := s.Pull.At(float64(s.Gap), float64(lag))
	if err != nil {
		t.Fatal(err)
	}
	p.Circle(x(lag.MM()), y(f.Lateral), 1.4, signal)
	p.Write(draw.Word{X: x(lag.MM()) - 3, Y: y(0.41), Text: fmt.Sprintf("lag: %.1f mm", lag.MM()), Size: 3.2, Signal: true})
	p.line(draw.Ink{Width: 0.25, Signal: true}, x(lag.MM()), y(f.Lateral)-1.6, x(lag.MM()), y(0.40))
	p.say(x(6.6), y(0.34), draw.Left, "pull back to the axis; most to spare,")
	p.say(x(6.6), y(0.34)+4.4, draw.Left, "%.2f N, at %.1f mm", best.Net, best.Offset.MM())
	p.say(x(2.3), y(0.05), draw.Left, "friction (%s)", r.Pieces.Kinds().Name(c.Heaviest()))
	return p.Drawing
}

// lean is the camera over the board, and where it sees the top of the king.
func lean(t *testing.T) *draw.Drawing {
	r, c := coupled(t)
	king := r.Pieces.Of(c.Heaviest())
	const floor, middle = 134.0, 80.0
	p := pen{&draw.Drawing{W: 160, H: 150}}
	mm := func(v float64) float64 { return v / 5 } // paper of millimetres
	eye := floor - mm(r.Camera.Height.MM())
	half := mm(r.Camera.Height.MM() * math.Tan(float64(r.Camera.HFOV)/2))
	p.box(draw.Outline, middle-4, eye-4, middle+4, eye)
	p.line(draw.Fine, middle-half, floor, middle, eye, middle+half, floor)
	field := mm(4 * r.Board.Square.MM())
	p.line(draw.Outline, middle-field, floor, middle+field, floor)
	for k := -4.0; k <= 4; k++ {
		p.line(draw.Fine, middle+k*field/4, floor, middle+k*field/4, floor+2)
	}
	at := 3.5 * r.Board.Square.MM()
	shift, err := optics.Lean(float64(king.Height), at*1e-3, float64(r.Camera.Height))
	if err != nil {
		t.Fatal(err)
	}
	x, top := middle+mm(at), floor-mm(king.Height.MM())
	p.box(draw.Outline, x-mm(king.Base.MM())/2, top, x+mm(king.Base.MM())/2, floor)
	p.line(draw.Ink{Width: 0.4, Signal: true}, middle, eye, x+mm(shift*1e3), floor)
	p.Write(draw.Word{X: 156, Y: floor + 7, Text: fmt.Sprintf("its top is seen %.1f mm further out", shift*1e3), Size: 3.2, At: draw.Right, Signal: true})
	p.say(156, floor+12, draw.Right, "king, %v high, %.0f mm from the middle", king.Height, at)
	p.say(middle+7, eye+1, draw.Left, "camera, %v above, sees %v across", r.Camera.Height, r.Camera.HFOV)
	p.say(middle-field, floor+7, draw.Left, "the field, %.0f mm", 8*r.Board.Square.MM())
	return p.Drawing
}
