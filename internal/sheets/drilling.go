// SPDX-License-Identifier: Apache-2.0

package sheets

import (
	"fmt"
	"slices"
	"strings"

	"boardhand/internal/axes"
	"boardhand/internal/draw"
	"boardhand/internal/materials"
	"boardhand/internal/sheets/tile"
)

// underside is the board from below at 1:1, White below: what is drilled, where walls and
// carriage come, and what must stay smooth.
func underside(o *Order) (Sheet, error) {
	r, f := o.Rig, o.Parts.Fixing
	halfX, halfY := r.Board.Half()
	w, h := 2*mm(halfX+r.Board.Border), 2*mm(halfY+r.Board.Border)
	d := &draw.Drawing{W: w + 2*around, H: h + 2*around}
	u := marking{d, o, around + w/2, around + h/2}
	box(d, around, around, around+w, around+h, draw.Knife)
	for _, hole := range f.Board {
		drill(d, u.x-mm(hole.X), u.y-mm(hole.Y), hole, around+w)
	}
	u.below(-mm(halfX), -mm(halfY), mm(halfX), mm(halfY), draw.Fine, "field: its corners lie under those of the other side")
	if in := r.Walls.Inside(); min(in[0], in[1]) > 0 {
		u.below(-mm(r.Walls.Left), -mm(r.Walls.Front), mm(r.Walls.Right), mm(r.Walls.Back), draw.Hidden, "inside faces of the walls")
	}
	reach, m := axes.Reach(r), mm(r.Lift.Diameter)/2
	u.below(reach.Min.X*1e3-m, reach.Min.Y*1e3-m, reach.Max.X*1e3+m, reach.Max.Y*1e3+m, draw.Extreme, "keep smooth and free: the magnet slides here")
	line(d, u.x-8, u.y, u.x+8, u.y, draw.Centre)
	line(d, u.x, u.y-8, u.x, u.y+8, draw.Centre)
	use := fmt.Sprintf("Tape it to the underside, prick the crosses, drill from below, countersink from above: %s.", counted(f.Board))
	if f.Lacks != "" {
		use = "Nothing screws the board down: " + f.Lacks + "."
	}
	return Sheet{
		Title: "Board: underside", Scale: "1:1",
		Use:   use + " The magnet's way must stay free of glue, screws and seams.",
		Pages: tile.Pages(d, o.Paper.size(), "Board at 1:1 from BELOW, White below, file h left"), Whole: d, Bare: true,
	}, nil
}

// below draws a rectangle of the board's frame as it lies from below, with its name inside.
func (m marking) below(x0, y0, x1, y1 float64, i draw.Ink, name string) {
	box(m, m.x-x1, m.y-y1, m.x-x0, m.y-y0, i)
	tile.WriteFree(m.Drawing, draw.Word{X: m.x - x1 + 2*letter, Y: m.y - y1 + letter, Text: name, Size: letter})
}

// drill is a hole: its circle, a cross through its middle, its diameter beside, to the left where
// it would cross the edge on the right.
func drill(d *draw.Drawing, x, y float64, h materials.Hole, edge float64) {
	radius := mm(h.Diameter) / 2
	d.Circle(x, y, radius, draw.Knife)
	line(d, x-radius-2.5, y, x+radius+2.5, y, draw.Fine)
	line(d, x, y-radius-2.5, x, y+radius+2.5, draw.Fine)
	w := draw.Word{X: x + radius + 1, Y: y - radius - 1, Text: "Ø" + written(mm(h.Diameter)), Size: letter}
	if x+radius+1+w.Width() > edge {
		w.X, w.At = x-radius-1, draw.Right
	}
	d.Write(w)
}

// counted says how many holes of which diameter there are, and what for.
func counted(holes []materials.Hole) string {
	var out []string
	for i, h := range holes {
		is := func(o materials.Hole) bool { return o.For == h.For && o.Diameter == h.Diameter }
		if slices.IndexFunc(holes, is) != i {
			continue
		}
		n := 0
		for _, o := range holes {
			if is(o) {
				n++
			}
		}
		out = append(out, fmt.Sprintf("%d × Ø%s %s", n, written(mm(h.Diameter)), h.For))
	}
	return strings.Join(out, ", ")
}

// writeLines writes text at a place, broken to a width.
func writeLines(d *draw.Drawing, x, y, width float64, text string) {
	for i, l := range wrapped(text, width) {
		d.Write(draw.Word{X: x, Y: y + float64(i)*lineStep, Text: l, Size: letter})
	}
}

// plate is the carriage's plate at 1:1 from above.
func plate(o *Order) (Sheet, error) {
	c, f := o.Rig.Carriage, o.Parts.Fixing
	if len(f.Plate) == 0 {
		return Sheet{}, nil
	}
	w, h := mm(c.Left+c.Right), mm(c.Front+c.Back)
	d := &draw.Drawing{W: max(w+2*plateRoom, plateText), H: h + 2*plateRoom + 4*lineStep}
	x, y := plateRoom+mm(c.Left), plateRoom+mm(c.Back)
	box(d, plateRoom, plateRoom, plateRoom+w, plateRoom+h, draw.Knife)
	line(d, x-mm(c.Left)-3, y, x+mm(c.Right)+3, y, draw.Centre)
	line(d, x, y-mm(c.Back)-3, x, y+mm(c.Front)+3, draw.Centre)
	for _, hole := range f.Plate {
		drill(d, x+mm(hole.X), y-mm(hole.Y), hole, plateRoom+w)
	}
	writeLines(d, plateRoom, plateRoom+h+plateRoom, plateText-plateRoom-2, counted(f.Plate)+".")
	return Sheet{
		Title: "Lift: carriage plate", Scale: "1:1",
		Use:   "Drill the cup's passage first: the magnet's axis is its middle, all else is set from it. Motor and guide are screwed on by their own flanges.",
		Pages: tile.Pages(d, o.Paper.size(), "Carriage plate at 1:1 from above, file h right"), Whole: d, Bare: true,
	}, nil
}
