// SPDX-License-Identifier: Apache-2.0

package draw

import "math"

// Drawing is what was drawn on one sheet, kept; it is a Pen.
type Drawing struct {
	W, H  float64 // mm
	parts []part
}

// part is one thing drawn: a line, a circle where its radius is not 0, a tone or a word.
type part struct {
	x, y   []float64
	radius float64
	ink    Ink
	tone   bool
	tint   Tint
	word   Word // where its text is not ""
}

// Line keeps a line.
func (d *Drawing) Line(x, y []float64, i Ink) {
	d.parts = append(d.parts, part{x: x, y: y, ink: i})
}

// Circle keeps a circle.
func (d *Drawing) Circle(x, y, radius float64, i Ink) {
	d.parts = append(d.parts, part{x: []float64{x}, y: []float64{y}, radius: radius, ink: i})
}

// Tone keeps a filled polygon.
func (d *Drawing) Tone(x, y []float64, t Tint) {
	d.parts = append(d.parts, part{x: x, y: y, tone: true, tint: t})
}

// Write keeps a word.
func (d *Drawing) Write(w Word) { d.parts = append(d.parts, part{word: w}) }

// Play draws it all with another pen.
func (d *Drawing) Play(p Pen) {
	for _, a := range d.parts {
		switch {
		case a.word.Text != "":
			p.Write(a.word)
		case a.radius != 0:
			p.Circle(a.x[0], a.y[0], a.radius, a.ink)
		case a.tone:
			p.Tone(a.x, a.y, a.tint)
		case len(a.x) > 0:
			p.Line(a.x, a.y, a.ink)
		}
	}
}

// SVG is the drawing as a picture.
func (d *Drawing) SVG() string {
	s := NewSVG(d.W, d.H)
	d.Play(s)
	return s.Close()
}

// Rect is an upright rectangle of paper, mm.
type Rect struct{ X0, Y0, X1, Y1 float64 }

// Within says whether it lies in another, but for a thousandth of a millimetre.
func (r Rect) Within(o Rect) bool {
	const slack = 1e-3
	return r.X0 >= o.X0-slack && r.Y0 >= o.Y0-slack && r.X1 <= o.X1+slack && r.Y1 <= o.Y1+slack
}

// Overlaps says whether two share more than an edge.
func (r Rect) Overlaps(o Rect) bool {
	return r.X0 < o.X1 && o.X0 < r.X1 && r.Y0 < o.Y1 && o.Y0 < r.Y1
}

// Bounds is the least rectangle around all that is drawn, words by their box.
func (d *Drawing) Bounds() Rect {
	b := Rect{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for i := range d.parts {
		p := d.parts[i].bounds()
		b = Rect{min(b.X0, p.X0), min(b.Y0, p.Y0), max(b.X1, p.X1), max(b.Y1, p.Y1)}
	}
	return b
}

func (a *part) bounds() Rect {
	if a.word.Text != "" {
		return a.word.Box()
	}
	b := Rect{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	r := a.radius
	for k := range a.x {
		b = Rect{min(b.X0, a.x[k]-r), min(b.Y0, a.y[k]-r), max(b.X1, a.x[k]+r), max(b.Y1, a.y[k]+r)}
	}
	return b
}

// Words lists what is written.
func (d *Drawing) Words() (out []Word) {
	for _, a := range d.parts {
		if a.word.Text != "" {
			out = append(out, a.word)
		}
	}
	return out
}

// shifted is a part elsewhere.
func (a part) shifted(dx, dy float64) part {
	x, y := make([]float64, len(a.x)), make([]float64, len(a.y))
	for k := range x {
		x[k], y[k] = a.x[k]+dx, a.y[k]+dy
	}
	a.x, a.y = x, y
	a.word.X, a.word.Y = a.word.X+dx, a.word.Y+dy
	return a
}

// Place draws another drawing on this one, its corner at (x, y).
func (d *Drawing) Place(o *Drawing, x, y float64) {
	for _, a := range o.parts {
		d.parts = append(d.parts, a.shifted(x, y))
	}
}
