// SPDX-License-Identifier: Apache-2.0

package draw

import (
	"io"
	"time"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-pdf/fpdf"
)

// Point is a typographer's point, mm.
const Point = 0.3528

// Page is a pen on a page of a PDF; what it draws begins at (X, Y).
type Page struct {
	PDF  *fpdf.Fpdf
	X, Y float64 // mm from the page's top left corner
}

// NewPDF begins a document with the fonts of all that we print, "sans" regular and bold. The
// same drawings give the same bytes. size is "A4" and the like, of pages that say nothing else.
func NewPDF(size string) *fpdf.Fpdf {
	d := fpdf.New("P", "mm", size, "")
	d.SetCreationDate(time.Unix(0, 0).UTC())
	d.SetModificationDate(time.Unix(0, 0).UTC())
	d.SetCatalogSort(true)
	d.AddUTF8FontFromBytes("sans", "", liberationsansregular.TTF)
	d.AddUTF8FontFromBytes("sans", "B", liberationsansbold.TTF)
	return d
}

// WritePDF writes drawings as a PDF of that title, each on a page of its own size.
func WritePDF(w io.Writer, title string, all ...*Drawing) error {
	d := NewPDF("A4")
	d.SetTitle(title, true)
	d.SetMargins(0, 0, 0)
	d.SetAutoPageBreak(false, 0)
	for _, one := range all {
		d.AddPageFormat("P", fpdf.SizeType{Wd: one.W, Ht: one.H})
		one.Play(&Page{PDF: d})
	}
	return d.Output(w)
}

func (p *Page) ink(i Ink) {
	c := i.colour()
	p.PDF.SetDrawColor(c.r, c.g, c.b)
	p.PDF.SetLineWidth(i.Width)
	p.PDF.SetDashPattern(i.Dash, 0)
	p.PDF.SetLineJoinStyle("round")
}

// Line draws a line through places.
func (p *Page) Line(x, y []float64, i Ink) {
	p.ink(i)
	p.PDF.MoveTo(p.X+x[0], p.Y+y[0])
	for k := 1; k < len(x); k++ {
		p.PDF.LineTo(p.X+x[k], p.Y+y[k])
	}
	p.PDF.DrawPath("D")
	p.PDF.SetDashPattern(nil, 0)
}

// Circle draws a circle.
func (p *Page) Circle(x, y, radius float64, i Ink) {
	p.ink(i)
	p.PDF.Circle(p.X+x, p.Y+y, radius, "D")
	p.PDF.SetDashPattern(nil, 0)
}

// Tone fills a polygon.
func (p *Page) Tone(x, y []float64, t Tint) {
	pts := make([]fpdf.PointType, len(x))
	for k := range x {
		pts[k] = fpdf.PointType{X: p.X + x[k], Y: p.Y + y[k]}
	}
	c := t.colour()
	p.PDF.SetFillColor(c.r, c.g, c.b)
	p.PDF.Polygon(pts, "F")
}

// Write writes a word.
func (p *Page) Write(w Word) {
	style := ""
	if w.Bold {
		style = "B"
	}
	p.PDF.SetFont("sans", style, w.Size/Point)
	c := w.colour()
	p.PDF.SetTextColor(c.r, c.g, c.b)
	shift := p.PDF.GetStringWidth(w.Text) * [...]float64{0, 0.5, 1}[w.At]
	x, y := p.X+w.X, p.Y+w.Y
	if w.Halo {
		p.ink(Ink{Width: 2 * halo, Paper: true})
		p.PDF.SetTextRenderingMode(1) // outlines alone
		p.PDF.Text(x-shift, y, w.Text)
		p.PDF.SetTextRenderingMode(0)
	}
	if !w.Upward {
		p.PDF.Text(x-shift, y, w.Text)
		return
	}
	p.PDF.TransformBegin()
	p.PDF.TransformRotate(90, x, y)
	p.PDF.Text(x-shift, y, w.Text)
	p.PDF.TransformEnd()
}
