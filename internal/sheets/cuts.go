// SPDX-License-Identifier: Apache-2.0

package sheets

import (
	"fmt"

	"boardhand/internal/draw"
)

// panels are walls and floor nested on stock sheets, with their sizes.
func panels(o *Order) (Sheet, error) {
	l := o.Parts.Walls.Panels
	w, h := mm(l.Sheet.Width), mm(l.Sheet.Height)
	var out Sheet
	var rows [][]string
	for k, places := range l.Sheets {
		in := extent{0, 0, w, h}
		v := newView(o.Paper, in, [4]int{1, 1, 0, 0})
		if v == nil {
			return Sheet{}, tooLarge(o.Paper, in)
		}
		v.box(0, 0, w, h, draw.Outline)
		v.across(below, 0, w, 0, written(w))
		v.upright(toLeft, 0, h, 0, written(h))
		for _, p := range places {
			x, y, wide, high := mm(p.X), mm(p.Y), mm(p.Width), mm(p.Height)
			v.box(x, y, x+wide, y+high, draw.Ink{Width: 0.35})
			rows = append(rows, []string{fmt.Sprint(len(rows) + 1), p.Name, fmt.Sprint(k + 1), written(wide) + " × " + written(high), written(x), written(y)})
			v.say(x+wide/2, y+high/2, fmt.Sprint(len(rows)))
		}
		out.Scale = v.scale
		out.Pages = append(out.Pages, v.Drawing)
	}
	if len(rows) == 0 {
		return out, nil
	}
	s := newScript(o.Paper)
	s.heading(fmt.Sprintf("Parts, %s thick", o.Parts.Walls.Thick))
	s.table([]column{{"no.", 12, true}, {"part", 50, false}, {"sheet", 16, true}, {"size, mm", 35, true}, {"from left, mm", 25, true}, {"from below, mm", 28, true}}, rows)
	s.paragraph("", fmt.Sprintf("Cuts of %s are left between the parts, and each can be cut out by cuts from edge to edge. Front and back run through the corners, left and right stand between them.", l.Sheet.Kerf))
	out.Title, out.Use = "Panels: walls and floor", "How the parts lie on the stock sheets, and their sizes."
	out.Pages = append(out.Pages, s.pages...)
	return out, nil
}

// courses are walls of modular elements, the lowest course and the one upon it.
func courses(o *Order) (Sheet, error) {
	r := o.Parts.Walls.Ring
	var out Sheet
	if r.Full+r.Plates == 0 {
		return out, nil
	}
	t, a, b := float64(r.Thick), float64(r.Inside[0]), float64(r.Inside[1])
	in := extent{-8 * t, -8 * t, 8 * (a + t), 8 * (b + t)}
	for k, c := range r.Courses {
		v := newView(o.Paper, in, [4]int{1, 1, 0, 0})
		if v == nil {
			return Sheet{}, tooLarge(o.Paper, in)
		}
		for _, across := range []float64{-t, b} {
			at := float64(c.X.From)
			for _, n := range c.X.Elements {
				v.box(8*at, 8*across, 8*(at+float64(n)), 8*(across+t), draw.Ink{Width: 0.35})
				at += float64(n)
			}
		}
		for _, across := range []float64{-t, a} {
			at := float64(c.Y.From)
			for _, n := range c.Y.Elements {
				v.box(8*across, 8*at, 8*(across+t), 8*(at+float64(n)), draw.Ink{Width: 0.35})
				at += float64(n)
			}
		}
		v.across(below, 0, 8*a, 0, written(8*a))
		v.upright(toLeft, 0, 8*b, 0, written(8*b))
		name := "courses 1, 3, 5 … from below"
		if k == 1 {
			name = "courses 2, 4, 6 … from below"
		}
		v.say(4*a, 4*b, name)
		out.Scale = v.scale
		out.Pages = append(out.Pages, v.Drawing)
	}
	s := newScript(o.Paper)
	s.heading("Elements, from left to right and from front to back")
	var rows [][]string
	for k, c := range r.Courses {
		rows = append(rows, []string{[]string{"1, 3, 5 …", "2, 4, 6 …"}[k], "front, back", fmt.Sprint(c.X.Elements)}, []string{"", "left, right", fmt.Sprint(c.Y.Elements)})
	}
	s.table([]column{{"course", 25, false}, {"wall", 25, false}, {"lengths, units of 8 mm", 0, false}}, rows)
	s.paragraph("", fmt.Sprintf("%d courses of full elements and %d of plates on top. No joint lies within %d units of one above or below.", r.Full, r.Plates, r.Overlap))
	out.Title, out.Use = "Walls: courses", "How the elements lie: two courses that repeat."
	out.Pages = append(out.Pages, s.pages...)
	return out, nil
}
