// SPDX-License-Identifier: Apache-2.0

package sheets

import (
	"fmt"

	"boardhand/internal/draw"
	"boardhand/internal/materials"
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
	whole := &draw.Drawing{}
	y := letter
	for _, set := range []struct {
		layout materials.Layout
		thick  unit.Length
		covers bool
	}{{f.Layout, f.Card, false}, {f.CoverLayout, f.Cover, true}} {
		w, h := mm(set.layout.Sheet.Width), mm(set.layout.Sheet.Height)
		for k, places := range set.layout.Sheets {
			what := "layers"
			if set.covers {
				what = "covers"
			}
			whole.Write(draw.Word{X: 1, Y: y, Text: fmt.Sprintf("%s, card of %s, sheet %d of %d", what, set.thick, k+1, len(set.layout.Sheets)), Size: letter})
			y += 2
			box(whole, 0.5, y, w-0.5, y+h, draw.Ink{Width: 0.13, Grey: true})
			for _, p := range places {
				disc(whole, mm(p.X)+mm(p.Width)/2, y+mm(p.Y)+mm(p.Height)/2, rings[p.Name], set.covers)
			}
			whole.W, whole.H = max(whole.W, w), y+h
			y += h + sheetGap
		}
	}
	if whole.W == 0 {
		return Sheet{}, nil
	}
	return Sheet{
		Title: "Bases: discs of card", Scale: "1:1", Whole: whole, Bare: true,
		Use:   "Cut the discs out, glue them upon each other with the short marks up and in line, the cover below. Counts stand in the list of bases.",
		Pages: tiled(whole, o.Paper, "Bases at 1:1, the short mark is on the upper face"),
	}, nil
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
