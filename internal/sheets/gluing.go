// SPDX-License-Identifier: Apache-2.0

package sheets

import (
	"fmt"

	"boardhand/internal/draw"
	"boardhand/internal/materials"
)

// gluing says which face of which magnet lies where, how to tell, and how to glue.
func gluing(o *Order) (Sheet, error) {
	s, m := newScript(o.Paper), o.Parts.Magnets
	s.heading("Which face up")
	s.paragraph("", m.Polarity)
	s.section(o)
	s.heading("How")
	for i, text := range []string{
		fmt.Sprintf("Take one %s as the reference and mark the face that is to lie like the drive magnet's upper one with a pen. It is north where a compass needle's south end turns to it.", m.Drive),
		fmt.Sprintf("Glue the %s onto the lift with the marked kind of face up; the reference's marked face pushes it off.", m.Drive),
		"Before each base: bring the reference's marked face near the magnet. The face that it pulls is the one that goes down. Mark the other one: it is up.",
		"Put the magnet into its pocket with the marked face up, cold two-part epoxy around it, level with the card. Keep bases a hand apart until it is hard: magnets jump.",
		"Leave it for as long as the glue's leaflet says for full strength, a day as a rule, at room temperature. No hot glue, no oven.",
		"Glue the cover over the pocket, then the foot under its piece.",
		"Check every piece once more: standing on the reference's marked face it must be pulled. Count magnets used, left and spare: none may be lost.",
	} {
		s.paragraph(fmt.Sprintf("%d", i+1), text)
	}
	s.heading("Pieces with a magnet")
	s.table([]column{{"side", 25, false}, {"kind", 35, false}, {"pieces", 20, true}, {"base, mm", 25, true}}, groupRows(m.Groups))
	s.paragraph("", fmt.Sprintf("Together %d magnets %s, and %d spare.", m.Count, m.Foot, m.Spare))
	s.heading("Take care")
	for _, c := range o.Report.Cautions {
		if c.ID == "glue" || c.ID == "swallow" || c.ID == "implant" || c.ID == "pinch" {
			s.paragraph("–", fmt.Sprintf("%s (%s)", c.Text, c.Source))
		}
	}
	return Sheet{Title: "Gluing the magnets", Use: "Which pole faces where, how to tell with one reference magnet, and how to glue.", Pages: s.pages}, nil
}

func groupRows(groups []materials.Group) (out [][]string) {
	for _, g := range groups {
		out = append(out, []string{g.Side, g.Kind, fmt.Sprint(g.Count), written(mm(g.Base))})
	}
	return out
}

// section draws base, board and drive magnet cut through, not to scale along the height.
func (s *script) section(o *Order) {
	const high, middle = 46.0, 60.0
	s.need(high)
	d, y := s.page(), s.y+4
	x := s.room.X0 + middle
	layer := func(width, deep float64, i draw.Ink) {
		box(d, x-width/2, y, x+width/2, y+deep, i)
		y += deep
	}
	pole := func(width, deep float64, up, down, name string) {
		box(d, x-width/2, y, x+width/2, y+deep, draw.Outline)
		line(d, x-width/2, y+deep/2, x+width/2, y+deep/2, draw.Fine)
		d.Write(draw.Word{X: x, Y: y + deep/2 - 1.2, Text: up, Size: letter, At: draw.Middle, Bold: true})
		d.Write(draw.Word{X: x, Y: y + deep - 1.2, Text: down, Size: letter, At: draw.Middle, Bold: true})
		lead(d, x+width/2, y+deep/2, s.room.X0+middle+38, name)
	}
	m := o.Parts.Magnets
	box(d, x-22, y, x+22, y+10, draw.Fine)
	pole(16, 10, "N", "S", "magnet in a base: "+m.FootDown+" pole down")
	y += 10
	layer(44, 3, draw.Fine)
	lead(d, x+22, y-1.5, s.room.X0+middle+38, fmt.Sprintf("cover, %s: the recess", o.Parts.Feet.Cover))
	layer(70, 6, draw.Outline)
	lead(d, x+30, y-3, s.room.X0+middle+38, fmt.Sprintf("board, %s", o.Rig.Board.Thickness))
	y += 4
	pole(22, 12, "N", "S", "drive magnet, raised: "+m.DriveUp+" pole up")
	s.y += high
}

// lead draws a line from a place to the right, to a word.
func lead(d *draw.Drawing, x, y, to float64, text string) {
	d.Circle(x, y, 0.4, draw.Ink{Width: 0.4})
	line(d, x, y, to, y, draw.Fine)
	d.Write(draw.Word{X: to + 1, Y: y + letter/3, Text: text, Size: letter})
}
