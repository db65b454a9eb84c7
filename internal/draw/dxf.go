// SPDX-License-Identifier: Apache-2.0

package draw

import (
	"fmt"
	"io"
	"strings"
)

// The layers of a DXF file: what is cut, what is marked, and what is only read. The colours
// are index colours of DXF: red, blue, grey.
var layersDXF = []struct {
	name   string
	colour int
}{{"CUT", 1}, {"MARK", 5}, {"TEXT", 8}}

// dxf is a pen that writes entities of DXF R12 (AC1009), y upwards from the sheet's bottom.
type dxf struct {
	b strings.Builder
	h float64
}

// WriteDXF writes a drawing as DXF R12 in millimetres, for laser cutters and CAD: group codes and
// sections as Autodesk's "DXF Reference" for release 12 gives them. Tones are left out, and
// dashes are drawn as full lines.
func WriteDXF(w io.Writer, d *Drawing) error {
	p := &dxf{h: d.H}
	p.section("HEADER")
	p.groups(9, "$ACADVER", 1, "AC1009", 9, "$EXTMIN", 10, 0.0, 20, 0.0, 30, 0.0, 9, "$EXTMAX", 10, d.W, 20, d.H, 30, 0.0,
		9, "$LIMMIN", 10, 0.0, 20, 0.0, 9, "$LIMMAX", 10, d.W, 20, d.H, 0, "ENDSEC")
	p.section("TABLES")
	p.groups(0, "TABLE", 2, "LTYPE", 70, 1, 0, "LTYPE", 2, "CONTINUOUS", 70, 0, 3, "Solid line", 72, 65, 73, 0, 40, 0.0, 0, "ENDTAB")
	p.groups(0, "TABLE", 2, "LAYER", 70, len(layersDXF))
	for _, l := range layersDXF {
		p.groups(0, "LAYER", 2, l.name, 70, 0, 62, l.colour, 6, "CONTINUOUS")
	}
	p.groups(0, "ENDTAB", 0, "ENDSEC")
	p.section("ENTITIES")
	d.Play(p)
	p.groups(0, "ENDSEC", 0, "EOF")
	_, err := io.WriteString(w, p.b.String())
	return err
}

func (p *dxf) section(name string) { p.groups(0, "SECTION", 2, name) }

// groups writes pairs of a group's code and its value.
func (p *dxf) groups(pairs ...any) {
	for k := 0; k < len(pairs); k += 2 {
		if v, ok := pairs[k+1].(float64); ok {
			fmt.Fprintf(&p.b, "%3d\n%.4f\n", pairs[k], v)
			continue
		}
		fmt.Fprintf(&p.b, "%3d\n%v\n", pairs[k], pairs[k+1])
	}
}

func layerOf(i Ink) string {
	if i.Cut {
		return "CUT"
	}
	return "MARK"
}

// Line writes a line as its stretches: R12's polylines are read less widely.
func (p *dxf) Line(x, y []float64, i Ink) {
	for k := 1; k < len(x); k++ {
		p.groups(0, "LINE", 8, layerOf(i), 10, x[k-1], 20, p.h-y[k-1], 30, 0.0, 11, x[k], 21, p.h-y[k], 31, 0.0)
	}
}

// Circle writes a circle.
func (p *dxf) Circle(x, y, radius float64, i Ink) {
	p.groups(0, "CIRCLE", 8, layerOf(i), 10, x, 20, p.h-y, 30, 0.0, 40, radius)
}

// Tone is nothing that a machine could follow.
func (p *dxf) Tone(_, _ []float64, _ Tint) {}

// Write writes a word, as R12 does: what is not ASCII by its code.
func (p *dxf) Write(w Word) {
	turn, align := 0.0, int(w.At)
	if w.Upward {
		turn = 90
	}
	p.groups(0, "TEXT", 8, "TEXT", 10, w.X, 20, p.h-w.Y, 30, 0.0, 40, capitals*w.Size, 1, plain(w.Text), 50, turn)
	if align != 0 {
		p.groups(72, align, 11, w.X, 21, p.h-w.Y, 31, 0.0)
	}
}

// plain is a text in ASCII: degrees, plus-minus and diameters by the control codes of DXF, the rest by \U+XXXX.
func plain(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == '°':
			b.WriteString("%%d")
		case r == '±':
			b.WriteString("%%p")
		case r == '⌀' || r == 'ø':
			b.WriteString("%%c")
		case r < 32:
			b.WriteByte(' ')
		case r < 127:
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, `\U+%04X`, r)
		}
	}
	return b.String()
}
