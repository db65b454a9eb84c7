// SPDX-License-Identifier: Apache-2.0

package sheets

import (
	"fmt"
	"math"
	"slices"

	"boardhand/internal/draw"
)

// grid is how a drawing is cut into pages.
type grid struct {
	paper      Paper // as it is laid: upright or across
	cols, rows int
	w, h       float64 // of a tile, mm
}

// gridFor cuts a drawing of a size into as few pages as can be.
func gridFor(w, h float64, p Paper) grid {
	best := grid{}
	for _, paper := range []Paper{p, {p.Name, p.H, p.W}} {
		g := grid{paper: paper, w: paper.W - 2*tileMargin, h: paper.H - 2*tileMargin - strip}
		g.cols, g.rows = pagesFor(w, g.w), pagesFor(h, g.h)
		if best.cols == 0 || g.cols*g.rows < best.cols*best.rows {
			best = g
		}
	}
	return best
}

// pagesFor is how many tiles, each overlapping the one before, cover a length.
func pagesFor(length, tile float64) int {
	return max(1, int(math.Ceil((length-overlap)/(tile-overlap)-1e-9)))
}

// tiled cuts a drawing at 1:1 into pages, each with its number, marks for its neighbours and a
// ruler. note says what it is.
func tiled(whole *draw.Drawing, p Paper, note string) []*draw.Drawing {
	g := gridFor(whole.W, whole.H, p)
	var out []*draw.Drawing
	for r := range g.rows {
		for c := range g.cols {
			x, y := float64(c)*(g.w-overlap), float64(r)*(g.h-overlap)
			page := &draw.Drawing{W: g.paper.W, H: g.paper.H}
			page.Place(whole.Clipped(draw.Rect{X0: x, Y0: y, X1: x + g.w, Y1: y + g.h}), tileMargin-x, tileMargin-y)
			g.marks(page, r, c)
			g.foot(page, r, c, note)
			out = append(out, page)
		}
	}
	return out
}

// tileName is a letter for the row and a number for the column.
func tileName(r, c int) string { return fmt.Sprintf("%c%d", 'A'+r, c+1) }

// marks draws the corners of the tile and where its neighbours are laid.
func (g grid) marks(d *draw.Drawing, r, c int) {
	x0, y0, x1, y1 := tileMargin, tileMargin, tileMargin+g.w, tileMargin+g.h
	for _, x := range []float64{x0, x1} {
		for _, y := range []float64{y0, y1} {
			line(d, x-2, y, x+2, y, draw.Knife)
			line(d, x, y-2, x, y+2, draw.Knife)
		}
	}
	if c+1 < g.cols {
		line(d, x1-overlap, y0, x1-overlap, y1, draw.Hidden)
		writeFree(d, draw.Word{X: x1 - overlap + letter, Y: y0 + g.h/2, Text: "lay the left edge of " + tileName(r, c+1) + " on the dashed line", Size: letter, At: draw.Middle, Upward: true})
	}
	if r+1 < g.rows {
		line(d, x0, y1-overlap, x1, y1-overlap, draw.Hidden)
		writeFree(d, draw.Word{X: x0 + g.w/2, Y: y1 - overlap + letter, Text: "lay the upper edge of " + tileName(r+1, c) + " on the dashed line", Size: letter, At: draw.Middle})
	}
}

// writeFree writes a word where no other one stands: it is moved along its line, at most by a
// quarter of the page.
func writeFree(d *draw.Drawing, w draw.Word) {
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
func (g grid) foot(d *draw.Drawing, r, c int, note string) {
	y := d.H - tileMargin - strip
	size := min(3.5, 10/float64(g.rows))
	for i := range g.rows {
		for k := range g.cols {
			x := tileMargin + 1 + float64(k)*size
			if i == r && k == c {
				d.Tone([]float64{x, x + size, x + size, x}, []float64{y + 4 + float64(i)*size, y + 4 + float64(i)*size, y + 4 + float64(i+1)*size, y + 4 + float64(i+1)*size}, draw.Light)
			}
			box(d, x, y+4+float64(i)*size, x+size, y+4+float64(i+1)*size, draw.Fine)
		}
	}
	x := tileMargin + 5 + float64(g.cols)*size
	d.Write(draw.Word{X: x, Y: y + 8, Text: tileName(r, c), Size: 2 * letter, Bold: true})
	d.Write(draw.Word{X: tileMargin + 1, Y: d.H - tileMargin - 4.6, Text: note + "; print at 100 %, not fitted to the page", Size: letter})
	ruler(d, d.W-tileMargin-rulerLength-4, y+11)
}

// ruler draws a length to be checked with a steel rule before anything is cut.
func ruler(d *draw.Drawing, x, y float64) {
	line(d, x, y, x+rulerLength, y, draw.Fine)
	for n := range int(rulerLength)/10 + 1 {
		high := 2.0
		if n%5 == 0 {
			high = 3.5
		}
		line(d, x+float64(n)*10, y, x+float64(n)*10, y-high, draw.Fine)
	}
	d.Write(draw.Word{X: x + rulerLength/2, Y: y - 4.5, Text: "100 mm: check with a steel rule", Size: letter, At: draw.Middle})
}
