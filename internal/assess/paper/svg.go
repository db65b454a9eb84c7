// SPDX-License-Identifier: Apache-2.0

package paper

import (
	"fmt"
	"html"
	"strings"
)

// svg is the pen for the page.
type svg struct{ b strings.Builder }

func newSVG(w, h float64) *svg {
	s := &svg{}
	fmt.Fprintf(&s.b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %g %g" width="%gmm" height="%gmm" font-family="sans-serif" fill="none" stroke-linejoin="round" role="img">`+"\n", w, h, w, h)
	return s
}

func (s *svg) close() string { return s.b.String() + "</svg>\n" }

func (s *svg) line(x, y []float64, i ink) {
	colour := inkColour
	switch {
	case i.signal:
		colour = signalColour
	case i.grey:
		colour = greyColour
	}
	fmt.Fprintf(&s.b, `<polyline points="%s" stroke="%s" stroke-width="%g"`, points(x, y), colour, i.width)
	if i.dash != nil {
		fmt.Fprintf(&s.b, ` stroke-dasharray="%s"`, strings.Trim(fmt.Sprint(i.dash), "[]"))
	}
	s.b.WriteString("/>\n")
}

func (s *svg) area(x, y []float64) {
	fmt.Fprintf(&s.b, `<polygon points="%s" fill="%s"/>`+"\n", points(x, y), areaColour)
}

func points(x, y []float64) string {
	var b strings.Builder
	for i := range x {
		fmt.Fprintf(&b, "%.2f,%.2f ", x[i], y[i])
	}
	return strings.TrimSpace(b.String())
}

func (s *svg) write(w word) {
	colour := inkColour
	if w.signal {
		colour = signalColour
	}
	turn := ""
	if w.upward {
		turn = fmt.Sprintf(` transform="rotate(-90 %.2f %.2f)"`, w.x, w.y)
	}
	fmt.Fprintf(&s.b, `<text x="%.2f" y="%.2f" font-size="%g" text-anchor="%s" fill="%s"%s>%s</text>`+"\n",
		w.x, w.y, w.size, [...]string{"start", "middle", "end"}[w.at], colour, turn, html.EscapeString(w.text))
}
