// SPDX-License-Identifier: Apache-2.0

package sheets

import (
	"fmt"
	"strings"

	"boardhand/internal/draw"
	"boardhand/internal/sheets/tile"
)

// title is what a title block says of a page.
type title struct {
	sheet                   *Sheet
	number, of, page, pages int
}

// room is where a page may be drawn on, mm.
func room(w, h float64) draw.Rect {
	return draw.Rect{X0: marginLeft + 2, Y0: margin + 2, X1: w - margin - 2, Y1: h - margin - blockHeight - 8}
}

// frame draws border, title block and, where the rig fails its checks, the warning.
func (o *Order) frame(d *draw.Drawing, t title) {
	if t.sheet.Bare {
		o.warn(d, tile.Margin+1, d.H-tile.Margin)
		return
	}
	x0, y0, x1, y1 := marginLeft, margin, d.W-margin, d.H-margin
	box(d, x0, y0, x1, y1, draw.Ink{Width: 0.7})
	top := y1 - blockHeight
	left := x1 - min(blockWidth, x1-x0)
	box(d, left, top, x1, y1, draw.Ink{Width: 0.5})
	o.block(d, t, left, top)
	o.warn(d, x0+2, top-2.5)
}

// cell is one field of the title block.
type cell struct {
	width         float64
	caption, text string
}

// block writes the fields of ISO 7200: title, scale, sheet, and who drew it of what.
func (o *Order) block(d *draw.Drawing, t title, left, top float64) {
	scale := t.sheet.Scale
	if scale == "" {
		scale = "–"
	}
	sheet := fmt.Sprintf("%d/%d", t.number, t.of)
	if t.pages > 1 {
		sheet += fmt.Sprintf(", page %d/%d", t.page, t.pages)
	}
	rows := [][]cell{
		{{96, "title", t.sheet.Title}, {24, "scale", scale}, {36, "sheet", sheet}, {24, "projection", ""}},
		{{96, "rig", shortened(o.Rig.Path, 92)}, {84, "drawn by", begun(o.Maker, 80)}},
		{{96, "units", "millimetres; frame of the board: x to file h, y to rank 8"}, {84, "date of issue", o.Date}},
	}
	for n, row := range rows {
		x, y := left, top+float64(n)*blockRow
		line(d, left, y, left+blockWidth, y, draw.Fine)
		for k, c := range row {
			if k > 0 {
				line(d, x, y, x, y+blockRow, draw.Fine)
			}
			d.Write(draw.Word{X: x + 1, Y: y + 3.4, Text: c.caption, Size: letter})
			d.Write(draw.Word{X: x + 1.5, Y: y + blockRow - 1.4, Text: c.text, Size: letter, Bold: n == 0 && k == 0})
			x += c.width
		}
	}
	firstAngle(d, left+blockWidth-12, top+blockRow-3.3)
}

// shortened is the end of a text that fits into a width, mm.
func shortened(text string, width float64) string {
	for r := []rune(text); (draw.Word{Text: text, Size: letter}).Width() > width && len(r) > 1; {
		r = r[1:]
		text = "…" + string(r)
	}
	return text
}

// begun is the beginning of a text that fits into a width, mm.
func begun(text string, width float64) string {
	for r := []rune(text); (draw.Word{Text: text, Size: letter}).Width() > width && len(r) > 1; {
		r = r[:len(r)-1]
		text = string(r) + "…"
	}
	return text
}

// firstAngle draws the sign of first-angle projection (ISO 5456-2): a truncated cone from the
// side, its small end to the left, and to the right of it as it is seen from there.
func firstAngle(d *draw.Drawing, x, y float64) {
	small, wide := 1.1, 2.2
	d.Line([]float64{x - 6.5, x - 2.1, x - 2.1, x - 6.5, x - 6.5}, []float64{y - small, y - wide, y + wide, y + small, y - small}, draw.Fine)
	d.Circle(x+2.8, y, small, draw.Fine)
	d.Circle(x+2.8, y, wide, draw.Fine)
	axis := draw.Ink{Width: 0.18, Dash: []float64{1.5, 0.4, 0.1, 0.4}}
	line(d, x-7.3, y, x-1.3, y, axis)
	line(d, x, y, x+5.6, y, axis)
	line(d, x+2.8, y-2.8, x+2.8, y+2.8, axis)
}

// warn says on a page that the rig is not to be built, and why.
func (o *Order) warn(d *draw.Drawing, x, y float64) {
	names := o.failing()
	if len(names) == 0 {
		return
	}
	text := "Not to be built: the rig fails " + strings.Join(names, ", ")
	for n := len(names) - 1; n > 0 && (draw.Word{Text: text, Size: letter, Bold: true}).Width() > d.W-x-margin-4; n-- {
		text = fmt.Sprintf("Not to be built: the rig fails %s and %d more", strings.Join(names[:n], ", "), len(names)-n)
	}
	d.Write(draw.Word{X: x, Y: y, Text: text, Size: letter, Signal: true, Bold: true})
}

func line(p draw.Pen, x0, y0, x1, y1 float64, i draw.Ink) {
	p.Line([]float64{x0, x1}, []float64{y0, y1}, i)
}

func box(p draw.Pen, x0, y0, x1, y1 float64, i draw.Ink) {
	p.Line([]float64{x0, x1, x1, x0, x0}, []float64{y0, y0, y1, y1, y0}, i)
}
