// SPDX-License-Identifier: Apache-2.0

package draw

import (
	"bytes"
	"math"
	"strings"
	"testing"
)

// area of a polygon, by its corners.
func area(x, y []float64) (a float64) {
	for i := range x {
		j := (i + 1) % len(x)
		a += (x[i]*y[j] - x[j]*y[i]) / 2
	}
	return math.Abs(a)
}

// A disc of 32 corners has the area of a regular polygon, n/2·r²·sin(2π/n); hatching stays in its
// square and is of lines at 45°.
func TestShapes(t *testing.T) {
	d := &Drawing{W: 100, H: 100}
	Disc(d, 50, 40, 7, Solid)
	if got, want := area(d.parts[0].x, d.parts[0].y), 16*49*math.Sin(math.Pi/16); math.Abs(got-want) > 1e-9 || math.Abs(got/(49*math.Pi)-1) > 0.01 {
		t.Errorf("a disc of 7 mm has %.3f mm², want %.3f", got, want)
	}
	d = &Drawing{W: 100, H: 100}
	Hatch(d, 10, 20, 30)
	if b := d.Bounds(); !b.Within(Rect{10, 20, 40, 50}) || len(d.parts) != 11 {
		t.Errorf("%d lines in %+v", len(d.parts), b)
	}
	for _, p := range d.parts {
		if dx, dy := p.x[1]-p.x[0], p.y[1]-p.y[0]; math.Abs(dx+dy) > 1e-9 {
			t.Errorf("a line of hatching goes by (%g, %g)", dx, dy)
		}
	}
}

// A word over lines has a rim of the ground, in a browser and on paper: there it is written twice,
// as outlines first (text rendering mode 1, ISO 32000-1, table 106).
func TestHalo(t *testing.T) {
	d := &Drawing{W: 100, H: 100}
	d.Write(Word{X: 10, Y: 10, Text: "3.4", Size: 3, Halo: true})
	if svg := d.SVG(); !strings.Contains(svg, `stroke="#f5f4ec" stroke-width="0.9" paint-order="stroke"`) {
		t.Error(svg)
	}
	pdf := NewPDF("A4")
	pdf.SetCompression(false)
	pdf.AddPage()
	d.Play(&Page{PDF: pdf})
	var b bytes.Buffer
	if err := pdf.Output(&b); err != nil {
		t.Fatal(err)
	}
	page := b.String()
	if outlines, fill := strings.Index(page, "1 Tr"), strings.Index(page, "0 Tr"); outlines < 0 || fill < outlines || strings.Count(page, " Tj") != 2 {
		t.Errorf("outlines at %d, filled from %d", outlines, fill)
	}
}
