// SPDX-License-Identifier: Apache-2.0

package sheets

import (
	"fmt"

	"boardhand/internal/draw"
	"boardhand/internal/materials"
	"boardhand/internal/sheets/tile"
	"boardhand/internal/unit"
)

// bases are the discs under the pieces at 1:1, nested on card: what is cut, and on each with a
// pocket a mark on its upper face.
func bases(o *Order) (Sheet, error) {
	f := o.Parts.Feet
	rings := map[string]materials.Ring{}
	for _, r := range f.Rings {
		rings[r.Side+" "+r.Kind] = r
	}
	sets := []discs{{f.Layout, fmt.Sprintf("layers, card of %s", f.Card), false, rings}, {f.CoverLayout, fmt.Sprintf("covers, card of %s", f.Cover), true, rings}}
	whole := &draw.Drawing{}
	var pages []*draw.Drawing
	y := letter
	for _, s := range sets {
		y = s.stock(whole, y)
		p, err := s.pages(o.Paper)
		if err != nil {
			return Sheet{}, err
		}
		pages = append(pages, p...)
	}
	if whole.W == 0 {
		return Sheet{}, nil
	}
	return Sheet{
		Title: "Bases: discs of card", Scale: "1:1", Whole: whole, Bare: true,
		Use:   "Print on the card, or glue the pages to it. Cut the discs out, glue them upon each other with the short marks up and in line, the cover below. Counts stand in the list of bases. SVG and DXF have them on the stock's card.",
		Pages: pages,
	}, nil
}

// discs are those to be cut from one kind of card, laid on its sheets.
type discs struct {
	materials.Layout
	what   string
	covers bool
	rings  map[string]materials.Ring // by side and kind
}

// stock draws the card with its discs below y, and says where it ends.
func (s discs) stock(whole *draw.Drawing, y float64) float64 {
	w, h := mm(s.Sheet.Width), mm(s.Sheet.Height)
	for k := range s.Sheets {
		whole.Write(draw.Word{X: 1, Y: y, Text: fmt.Sprintf("%s, sheet %d of %d", s.what, k+1, len(s.Sheets)), Size: letter})
		y += 2
		box(whole, 0.5, y, w-0.5, y+h, draw.Ink{Width: 0.13, Grey: true})
		s.lay(whole, s.Layout, k, 0, y)
		whole.W, whole.H = max(whole.W, w), y+h
		y += h + sheetGap
	}
	return y
}

// lay draws the discs of one sheet of a layout.
func (s discs) lay(d *draw.Drawing, l materials.Layout, sheet int, x, y float64) {
	for _, p := range l.Sheets[sheet] {
		disc(d, x+mm(p.X+p.Width/2), y+mm(p.Y+p.Height/2), s.rings[p.Name], s.covers)
	}
}

// pages are the same discs laid anew, so that each lies whole on a page: on as few as can be,
// upright or across.
func (s discs) pages(p Paper) (out []*draw.Drawing, err error) {
	var best materials.Layout
	var on tile.Grid
	for _, paper := range []Paper{p, {p.Name, p.H, p.W}} {
		g := tile.One(paper.size())
		l, err := materials.Laid(s.Layout, unit.MM(g.W-2*discGap), unit.MM(g.H-captionHigh-discGap))
		if err != nil {
			return nil, err
		}
		if best.Sheets == nil || len(l.Sheets) < len(best.Sheets) {
			best, on = l, g
		}
	}
	for k := range best.Sheets {
		d := &draw.Drawing{W: on.Paper[0], H: on.Paper[1]}
		s.lay(d, best, k, tile.Margin+discGap, tile.Margin+captionHigh)
		d.Write(draw.Word{X: tile.Margin + 3, Y: tile.Margin + letter, Text: fmt.Sprintf("%s, page %d of %d", s.what, k+1, len(best.Sheets)), Size: letter})
		on.Frame(d, 0, 0, "Bases at 1:1, the short mark is on the upper face")
		out = append(out, d)
	}
	return out, nil
}

// disc is one layer of a base, or its cover.
func disc(d *draw.Drawing, x, y float64, r materials.Ring, isCover bool) {
	outer := mm(r.Outer) / 2
	d.Circle(x, y, outer, draw.Knife)
	if pocket := mm(r.Pocket) / 2; pocket > 0 && !isCover {
		d.Circle(x, y, pocket, draw.Knife)
		line(d, x, y-pocket-0.3*(outer-pocket), x, y-pocket-0.8*(outer-pocket), draw.Fine)
	}
}
