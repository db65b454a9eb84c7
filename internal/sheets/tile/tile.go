// SPDX-License-Identifier: Apache-2.0

// Package tile cuts drawings at 1:1 into pages for a printer: overlapping, with marks for their
// neighbours, a number and a ruler. Lengths are millimetres of paper.
package tile

import (
	"fmt"
	"math"
	"slices"

	"boardhand/internal/draw"
)

// Grid is how a drawing is cut into pages.
type Grid struct {
	Paper      [2]float64 // width and height as it is laid: upright or across
	Cols, Rows int
	W, H       float64 // of a tile
}

// One is a page that is one tile.
func One(paper [2]float64) Grid {
	return Grid{Paper: paper, Cols: 1, Rows: 1, W: paper[0] - 2*Margin, H: paper[1] - 2*Margin - Strip}
}

// For cuts a drawing of a size into as few pages as can be.
func For(w, h float64, paper [2]float64) Grid {
	best := Grid{}
	for _, paper := range [][2]float64{paper, {paper[1], paper[0]}} {
		g := One(paper)
		g.Cols, g.Rows = pagesFor(w, g.W), pagesFor(h, g.H)
		if best.Cols == 0 || g.Cols*g.Rows < best.Cols*best.Rows {
			best = g
		}
	}
	return best
}

// pagesFor is how many tiles, each overlapping the one before, cover a length.
func pagesFor(length, tile float64) int {
	return max(1, int(math.Ceil((length-Overlap)/(tile-Overlap)-1e-9)))
}

// Pages cuts a drawing at 1:1 into pages, each with its number, marks for its neighbours and a
// ruler. note says what it is.
func Pages(whole *draw.Drawing, paper [2]float64, note string) []*draw.Drawing {
	g := For(whole.W, whole.H, paper)
	var out []*draw.Drawing
	for r := range g.Rows {
		for c := range g.Cols {
			x, y := float64(c)*(g.W-Overlap), float64(r)*(g.H-Overlap)
			page := &draw.Drawing{W: g.Paper[0], H: g.Paper[1]}
			page.Place(whole.Clipped(draw.Rect{X0: x, Y0: y, X1: x + g.W, Y1: y + g.H}), Margin-x, Margin-y)
			g.Frame(page, r, c, note)
			out = append(out, page)
		}
	}
	return out
}

// tileName is a letter for the row and a number for the column.
func tileName(r, c int) string { return fmt.Sprintf("%c%d", 'A'+r, c+1) }

// Frame draws around the tile in a row and column what it is laid and checked by.
func (g Grid) Frame(d *draw.Drawing, r, c int, note string) {
	g.marks(d, r, c)
	g.foot(d, r, c, note)
}

// marks draws the corners of the tile and where its neighbours are laid.
func (g Grid) marks(d *draw.Drawing, r, c int) {
	x0, y0, x1, y1 := Margin, Margin, Margin+g.W, Margin+g.H
	for _, x := range []float64{x0, x1} {
		for _, y := range []float64{y0, y1} {
			line(d, x-2, y, x+2, y, draw.Knife)
			line(d, x, y-2, x, y+2, draw.Knife)
		}
	}
	if c+1 < g.Cols {
		line(d, x1-Overlap, y0, x1-Overlap, y1, draw.Hidden)
		WriteFree(d, draw.Word{X: x1 - Overlap + Letter, Y: y0 + g.H/2, Text: "lay the left edge of " + tileName(r, c+1) + " on the dashed line", Size: Letter, At: draw.Middle, Upward: true})
	}
	if r+1 < g.Rows {
		line(d, x0, y1-Overlap, x1, y1-Overlap, draw.Hidden)
		WriteFree(d, draw.Word{X: x0 + g.W/2, Y: y1 - Overlap + Letter, Text: "lay the upper edge of " + tileName(r+1, c) + " on the dashed line", Size: Letter, At: draw.Middle})
	}
}

// WriteFree writes a word where no other one stands: it is moved along its line, at most by a
// quarter of the page.
func WriteFree(d *draw.Drawing, w draw.Word) {
	const step = 5.0
	for n := range int(d.W / 4 / step) {
		for _, by := range []float64{float64(n) * step, -float64(n) * step} {
			at := w
			if w.Upward {
				at.Y += by
			} else {
				at.X += by
			}
			if !slices.ContainsFunc(d.Words(), func(o draw.Word) bool { return o.Box().Overlaps(at.Box()) }) {
				d.Write(at)
				return
			}
		}
	}
	d.Write(w)
}

// foot writes what lies below a tile: its place among all, the ruler, and how to print it.
func (g Grid) foot(d *draw.Drawing, r, c int, note string) {
	y := d.H - Margin - Strip
	size := min(3.5, 10/float64(g.Rows))
	for i := range g.Rows {
		for k := range g.Cols {
			x := Margin + 1 + float64(k)*size
			if i == r && k == c {
				d.Tone([]float64{x, x + size, x + size, x}, []float64{y + 4 + float64(i)*size, y + 4 + float64(i)*size, y + 4 + float64(i+1)*size, y + 4 + float64(i+1)*size}, draw.Light)
			}
			d.Line([]float64{x, x + size, x + size, x, x}, []float64{y + 4 + float64(i)*size, y + 4 + float64(i)*size, y + 4 + float64(i+1)*size, y + 4 + float64(i+1)*size, y + 4 + float64(i)*size}, draw.Fine)
		}
	}
	x := Margin + 5 + float64(g.Cols)*size
	d.Write(draw.Word{X: x, Y: y + 8, Text: tileName(r, c), Size: 2 * Letter, Bold: true})
	d.Write(draw.Word{X: Margin + 1, Y: d.H - Margin - 4.6, Text: note + "; print at 100 %, not fitted to the page", Size: Letter})
	Ruler(d, d.W-Margin-RulerLength-4, y+11)
}

// Ruler draws a length to be checked with a steel rule before anything is cut.
func Ruler(d *draw.Drawing, x, y float64) {
	line(d, x, y, x+RulerLength, y, draw.Fine)
	for n := range int(RulerLength)/10 + 1 {
		high := 2.0
		if n%5 == 0 {
			high = 3.5
		}
		line(d, x+float64(n)*10, y, x+float64(n)*10, y-high, draw.Fine)
	}
	d.Write(draw.Word{X: x + RulerLength/2, Y: y - 4.5, Text: "100 mm: check with a steel rule", Size: Letter, At: draw.Middle})
}

func line(d *draw.Drawing, x0, y0, x1, y1 float64, i draw.Ink) {
	d.Line([]float64{x0, x1}, []float64{y0, y1}, i)
}
