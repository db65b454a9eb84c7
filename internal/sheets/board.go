// SPDX-License-Identifier: Apache-2.0

package sheets

import (
	"fmt"

	"boardhand/internal/draw"
	"boardhand/internal/frame"
	"boardhand/internal/sheets/tile"
)

// marking is the board at 1:1, seen from above, White below: (X, Y) is the field's centre.
type marking struct {
	*draw.Drawing
	o    *Order
	x, y float64
}

// around is the space left around the board, mm: for the crosses of its corners.
const around = 6.0

// board is the template that the playing surface is marked and cut by.
func board(o *Order) (Sheet, error) {
	b := o.Rig.Board
	halfX, halfY := b.Half()
	w, h := 2*mm(halfX+b.Border), 2*mm(halfY+b.Border)
	m := marking{&draw.Drawing{W: w + 2*around, H: h + 2*around}, o, around + w/2, around + h/2}
	box(m, m.x-w/2, m.y-h/2, m.x+w/2, m.y+h/2, draw.Knife)
	m.squares()
	m.names()
	m.places()
	line(m, m.x-5, m.y, m.x+5, m.y, draw.Centre)
	line(m, m.x, m.y-5, m.x, m.y+5, draw.Centre)
	note := fmt.Sprintf("Board at 1:1, %s × %s mm, squares %s mm, seen from above, White below", written(w), written(h), written(mm(b.Square)))
	return Sheet{
		Title: "Board: marking template", Scale: "1:1",
		Use:   "Glue the pages together, lay them on the sheet, prick the corners of the squares, cut along the outline.",
		Pages: tile.Pages(m.Drawing, o.Paper.size(), note), Whole: m.Drawing, Bare: true,
	}, nil
}

// at is where a place on the board is drawn.
func (m marking) at(p frame.Spot[frame.Board]) (x, y float64) { return m.x + p.X*1e3, m.y - p.Y*1e3 }

// squares draws the field, the dark squares hatched.
func (m marking) squares() {
	b := m.o.Rig.Board
	s := mm(b.Square)
	left, top := m.x-float64(b.Files)*s/2, m.y-float64(b.Ranks)*s/2
	for i := range b.Files + 1 {
		line(m, left+float64(i)*s, top, left+float64(i)*s, top+float64(b.Ranks)*s, draw.Fine)
	}
	for i := range b.Ranks + 1 {
		line(m, left, top+float64(i)*s, left+float64(b.Files)*s, top+float64(i)*s, draw.Fine)
	}
	for f := range b.Files {
		for r := range b.Ranks {
			if (f+r)%2 == 0 { // a1 is dark
				draw.Hatch(m, left+float64(f)*s, top+float64(b.Ranks-1-r)*s, s)
			}
		}
	}
}

// names writes files and ranks into the border, or where that is too narrow into the corners of
// the squares.
func (m marking) names() {
	b := m.o.Rig.Board
	s := mm(b.Square)
	left, bottom := m.x-float64(b.Files)*s/2, m.y+float64(b.Ranks)*s/2
	if inBorder := mm(b.Border) >= 2*letter; inBorder {
		for f := range b.Files {
			m.Write(draw.Word{X: left + (float64(f)+0.5)*s, Y: bottom + 1.3*letter, Text: string(rune('a' + f)), Size: letter, At: draw.Middle})
		}
		for r := range b.Ranks {
			m.Write(draw.Word{X: left - 0.6*letter, Y: bottom - (float64(r)+0.5)*s + letter/3, Text: fmt.Sprint(r + 1), Size: letter, At: draw.Right})
		}
		return
	}
	for f := range b.Files {
		m.Write(draw.Word{X: left + (float64(f)+1)*s - 1, Y: bottom - 1, Text: string(rune('a' + f)), Size: letter, At: draw.Right})
	}
	for r := range b.Ranks {
		m.Write(draw.Word{X: left + 1, Y: bottom - (float64(r)+1)*s + letter, Text: fmt.Sprint(r + 1), Size: letter})
	}
}

// places draws the slots of a tray, or the trapdoor, where they lie on the board's sheet.
func (m marking) places() {
	r := m.o.Rig
	radius := mm(r.Pieces.Widest()) / 2
	sheet := draw.Rect{X0: around, Y0: around, X1: m.W - around, Y1: m.H - around}
	on := func(x, y, radius float64) bool {
		return draw.Rect{X0: x - radius, Y0: y - radius, X1: x + radius, Y1: y + radius}.Within(sheet)
	}
	for _, slot := range r.Slots() {
		if x, y := m.at(slot); on(x, y, radius) {
			m.Circle(x, y, radius, draw.Fine)
		}
	}
	if r.Removal.Mode == "chute" {
		at := frame.Spot[frame.Board]{X: float64(r.Removal.Chute[0]), Y: float64(r.Removal.Chute[1])}
		if x, y := m.at(at); on(x, y, 1.2*radius) {
			m.Circle(x, y, 1.2*radius, draw.Knife)
		}
	}
}
