// SPDX-License-Identifier: Apache-2.0

package draw

import (
	"fmt"
	"html"
	"strings"
)

// SVG is a pen that writes a picture for pages and browsers, a unit a millimetre.
type SVG struct{ b strings.Builder }

// NewSVG begins a picture of a width and height, mm.
func NewSVG(w, h float64) *SVG {
	s := &SVG{}
	fmt.Fprintf(&s.b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %g %g" width="%gmm" height="%gmm" font-family="sans-serif" fill="none" stroke-linejoin="round" role="img">`+"\n", w, h, w, h)
	return s
}

// Name tells a reader that cannot see the picture what it shows; it comes first.
func (s *SVG) Name(text string) {
	s.b.WriteString("<title>" + html.EscapeString(text) + "</title>\n")
}

// Close ends the picture and returns it.
func (s *SVG) Close() string { return s.b.String() + "</svg>\n" }

func (c rgb) String() string { return fmt.Sprintf("#%02x%02x%02x", c.r, c.g, c.b) }

// Line draws a line through places.
func (s *SVG) Line(x, y []float64, i Ink) {
	fmt.Fprintf(&s.b, `<polyline points="%s"%s/>`+"\n", points(x, y), stroke(i))
}

// Circle draws a circle.
func (s *SVG) Circle(x, y, radius float64, i Ink) {
	fmt.Fprintf(&s.b, `<circle cx="%.2f" cy="%.2f" r="%.2f"%s/>`+"\n", x, y, radius, stroke(i))
}

func stroke(i Ink) string {
	dash := ""
	if i.Dash != nil {
		dash = fmt.Sprintf(` stroke-dasharray="%s"`, strings.Trim(fmt.Sprint(i.Dash), "[]"))
	}
	return fmt.Sprintf(` stroke="%v" stroke-width="%g"%s`, i.colour(), i.Width, dash)
}

// Tone fills a polygon.
func (s *SVG) Tone(x, y []float64, t Tint) {
	fmt.Fprintf(&s.b, `<polygon points="%s" fill="%v"/>`+"\n", points(x, y), t.colour())
}

func points(x, y []float64) string {
	var b strings.Builder
	for i := range x {
		fmt.Fprintf(&b, "%.2f,%.2f ", x[i], y[i])
	}
	return strings.TrimSpace(b.String())
}

// Write writes a word.
func (s *SVG) Write(w Word) {
	more := ""
	if w.Bold {
		more = ` font-weight="bold"`
	}
	if w.Upward {
		more += fmt.Sprintf(` transform="rotate(-90 %.2f %.2f)"`, w.X, w.Y)
	}
	if w.Halo {
		more += fmt.Sprintf(` stroke="%v" stroke-width="%g" paint-order="stroke"`, colours.paper, 2*halo)
	}
	fmt.Fprintf(&s.b, `<text x="%.2f" y="%.2f" font-size="%g" text-anchor="%s" fill="%v"%s>%s</text>`+"\n",
		w.X, w.Y, w.Size, [...]string{"start", "middle", "end"}[w.At], w.colour(), more, html.EscapeString(w.Text))
}
