// SPDX-License-Identifier: Apache-2.0

package draw

import (
	"encoding/xml"
	"io"
	"math"
	"strings"
	"testing"
)

// The widths of Helvetica, which the typeface keeps, by Adobe's metrics file Helvetica.afm
// (1997): A 667, i 222, 0 556 thousandths of the size.
func TestWidthIsHelveticas(t *testing.T) {
	for text, want := range map[string]float64{"A": 0.667, "i": 0.222, "0": 0.556, "Ai0": 1.445} {
		if got := (Word{Text: text, Size: 10}).Width(); math.Abs(got-10*want) > 0.01 {
			t.Errorf("%q of 10 mm is %.3f mm wide, want %.2f", text, got, 10*want)
		}
	}
}

func TestBoxOfAWord(t *testing.T) {
	w := Word{X: 50, Y: 20, Text: "A", Size: 10, At: Right}
	if b := w.Box(); math.Abs(b.X1-50) > 1e-9 || math.Abs(b.X0-43.33) > 0.01 || math.Abs(b.Y0-13.1) > 1e-9 {
		t.Errorf("to the left of its place: %+v", b)
	}
	w.Upward, w.At = true, Left
	if b := w.Box(); math.Abs(b.Y1-20) > 1e-9 || math.Abs(b.Y0-13.33) > 0.01 || math.Abs(b.X0-43.1) > 1e-9 {
		t.Errorf("upward: %+v", b)
	}
}

// marks is a drawing with one of everything.
func marks() *Drawing {
	d := &Drawing{W: 120, H: 90}
	d.Tone([]float64{10, 60, 60, 10}, []float64{10, 10, 30, 30}, Light)
	d.Line([]float64{-10, 50, 130}, []float64{45, 45, 95}, Outline)
	d.Circle(60, 45, 20, Knife)
	d.Write(Word{X: 30, Y: 60, Text: "⌀ 40 ± 0,1 <mm>", Size: 4})
	return d
}

// What is cut into tiles and put together again is the whole: the length of all lines, the
// areas of the tones, circles by their circumference.
func TestTilesMakeTheWhole(t *testing.T) {
	d := marks()
	whole, parts := measure(d.Clipped(Rect{X1: 120, Y1: 90})), measured{}
	for _, x := range []float64{0, 37.5, 60, 91} {
		next := map[float64]float64{0: 37.5, 37.5: 60, 60: 91, 91: 120}[x]
		for _, y := range []float64{0, 45.5} {
			p := measure(d.Clipped(Rect{X0: x, Y0: y, X1: next, Y1: y + 45.5}))
			parts.lines, parts.tones = parts.lines+p.lines, parts.tones+p.tones
		}
	}
	if math.Abs(whole.tones-1000) > 1e-9 || math.Abs(parts.tones-whole.tones) > 1e-6 {
		t.Errorf("tones: %.3f mm² in tiles, %.3f as a whole, want 1000", parts.tones, whole.tones)
	}
	if math.Abs(parts.lines-whole.lines) > 0.2 {
		t.Errorf("lines: %.3f mm in tiles, %.3f as a whole", parts.lines, whole.lines)
	}
}

type measured struct{ lines, tones float64 }

func measure(d *Drawing) (m measured) {
	for _, p := range d.parts {
		switch {
		case p.radius != 0:
			m.lines += 2 * math.Pi * p.radius
		case p.tone:
			for k := range p.x {
				j := (k + 1) % len(p.x)
				m.tones += (p.x[k]*p.y[j] - p.x[j]*p.y[k]) / 2
			}
		default:
			for k := 1; k < len(p.x); k++ {
				m.lines += math.Hypot(p.x[k]-p.x[k-1], p.y[k]-p.y[k-1])
			}
		}
	}
	return m
}

func TestCutCircleStaysOnTheCircle(t *testing.T) {
	d := &Drawing{}
	d.Circle(60, 45, 20, Outline)
	c := d.Clipped(Rect{X0: 60, Y0: 0, X1: 100, Y1: 90})
	if len(c.parts) == 0 {
		t.Fatal("nothing is left of half a circle")
	}
	for _, p := range c.parts {
		for k := range p.x {
			if r := math.Hypot(p.x[k]-60, p.y[k]-45); math.Abs(r-20) > chord || p.x[k] < 60-1e-9 {
				t.Errorf("(%.3f, %.3f) is %.3f mm from the middle", p.x[k], p.y[k], r)
			}
		}
	}
}

func TestSVGIsXML(t *testing.T) {
	dec := xml.NewDecoder(strings.NewReader(marks().SVG()))
	n := map[string]int{}
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := tok.(xml.StartElement); ok {
			n[e.Name.Local]++
		}
	}
	for _, name := range []string{"svg", "polyline", "circle", "polygon", "text"} {
		if n[name] != 1 {
			t.Errorf("%d elements %s, want 1", n[name], name)
		}
	}
}

func TestPlacedDrawingIsMoved(t *testing.T) {
	var d Drawing
	d.Place(marks(), 100, 50)
	if b := d.Bounds(); b.X0 != 90 || b.Y0 != 60 {
		t.Errorf("its corner is at (%g, %g), want (90, 60)", b.X0, b.Y0)
	}
}

// A thin line is broken where it crosses a word and goes on behind it; the line below a word, an
// outline and what is cut stay whole.
func TestLinesAreBrokenAtWords(t *testing.T) {
	d := &Drawing{}
	d.Write(Word{X: 50, Y: 10, Text: "136", Size: 4, At: Middle})
	d.Line([]float64{50, 50}, []float64{0, 40}, Fine)     // through the word
	d.Line([]float64{0, 100}, []float64{11, 11}, Fine)    // the dimension line below it
	d.Line([]float64{49, 49}, []float64{0, 40}, Outline)  // an outline
	d.Line([]float64{51, 51}, []float64{0, 40}, Knife)    // what is cut
	d.Line([]float64{0, 100}, []float64{40, 40}, Extreme) // far away
	d.BreakAtWords()
	type kind struct {
		width float64
		cut   bool
	}
	long := map[kind]float64{}
	n := 0
	for _, a := range d.parts {
		if len(a.x) != 2 {
			continue
		}
		n++
		long[kind{a.ink.Width, a.ink.Cut}] += math.Hypot(a.x[1]-a.x[0], a.y[1]-a.y[0])
	}
	gap := capital*4 + 2*wordGap
	if n != 6 || math.Abs(long[kind{Fine.Width, false}]-(40-gap+100+100)) > 1e-9 || long[kind{Outline.Width, false}] != 40 || long[kind{Knife.Width, true}] != 40 {
		t.Errorf("%d lines, %v", n, long)
	}
}
