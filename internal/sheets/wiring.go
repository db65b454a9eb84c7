// SPDX-License-Identifier: Apache-2.0

package sheets

import (
	"fmt"
	"math"
	"strings"

	"boardhand/internal/draw"
	"boardhand/internal/materials"
)

// wiring is a schematic of all leads, and what each must be.
func wiring(o *Order) (Sheet, error) {
	s, w := newScript(o.Paper), o.Parts.Wiring
	s.heading("Leads")
	for i, l := range w.Leads {
		if i == 0 || s.need(wireStep) {
			s.controller(w.Leads[i:])
		}
		s.wire(l)
	}
	s.y += lineStep
	s.paragraph("", "Dashed: the lead follows an axis and hangs in a loop from the middle of its travel. Undashed: it lies still.")
	s.heading("Lengths")
	s.table([]column{{"lead", 30, false}, {"follows", 18, false}, {"fixed way and slack, mm", 25, true}, {"least, mm", 17, true}, {"takes, mm", 17, true}, {"which is", 0, false}}, leadRows(w.Leads))
	s.supply(w)
	return Sheet{Title: "Wiring", Use: "Which lead goes where, how long each must be, and what serves.", Pages: s.pages}, nil
}

// controller draws the box that as many of the leads begin at as the page has room for.
func (s *script) controller(leads []materials.Lead) {
	n := min(len(leads), int((s.room.Y1-s.y)/wireStep))
	x0, y0 := s.room.X0, s.y+2
	x1, y1 := x0+28, s.y+float64(n)*wireStep-1
	box(s.page(), x0, y0, x1, y1, draw.Outline)
	s.page().Write(draw.Word{X: (x0+x1)/2 + letter/3, Y: (y0 + y1) / 2, Text: "controller", Size: letter, At: draw.Middle, Upward: true})
}

// wire draws one lead from the controller to its end, with its lengths.
func (s *script) wire(l materials.Lead) {
	d := s.page()
	x0, x1 := s.room.X0+28, s.room.X1-38
	y := s.y + wireStep*0.6
	ink := draw.Ink{Width: 0.35}
	if len(l.Moves) > 0 {
		ink.Dash = []float64{3, 1}
	}
	line(d, x0, y, x1, y, ink)
	box(d, x1, y-4, s.room.X1, y+4, draw.Outline)
	d.Write(draw.Word{X: (x1 + s.room.X1) / 2, Y: y + letter/3, Text: shortened(l.Name, 34), Size: letter, At: draw.Middle})
	d.Write(draw.Word{X: x0 + 3, Y: y - 1.2, Text: fmt.Sprintf("least %.0f mm, takes %.0f mm: %s", math.Ceil(mm(l.Need)-1e-6), mm(l.Takes), sources[l.Source]), Size: letter})
	s.y += wireStep
}

// sources says in words where a lead comes from.
var sources = map[string]string{
	"owned": "owned", "stock": "owned, of the stock", "buy": "to be bought", "make": "to be made up", "own": "the supply's own",
}

func leadRows(leads []materials.Lead) (out [][]string) {
	for _, l := range leads {
		from := sources[l.Source]
		if l.Assumed {
			from += "; not in the rig file"
		}
		follows := strings.Join(l.Moves, " and ")
		if follows == "" {
			follows = "–"
		}
		out = append(out, []string{l.Name, follows, written(mm(l.Fixed)), fmt.Sprintf("%.0f", math.Ceil(mm(l.Need)-1e-6)), written(mm(l.Takes)), from})
	}
	return out
}

// supply writes sockets and currents.
func (s *script) supply(w materials.Wiring) {
	s.heading("Sockets and supply")
	has := "; the rig does not say how many there are"
	if w.Ports.Has > 0 {
		has = fmt.Sprintf(" of %d", w.Ports.Has)
	}
	s.paragraph("", fmt.Sprintf("Motors take %d sockets%s, end switches %d inputs.", w.Ports.Motors, has, w.Ports.Switches))
	var rows [][]string
	for _, d := range w.Supply.Draws {
		rows = append(rows, []string{d.Name, fmt.Sprintf("%.2f", float64(d.Current))})
	}
	rows = append(rows, []string{"together", fmt.Sprintf("%.2f", float64(w.Supply.Load))}, []string{"with a reserve", fmt.Sprintf("%.2f", float64(w.Supply.Least))})
	given := "not named"
	if w.Supply.Rated > 0 {
		given = fmt.Sprintf("%.2f", float64(w.Supply.Rated))
	}
	rows = append(rows, []string{"the rig's supply, " + w.Supply.Voltage.String(), given})
	s.table([]column{{"draws at most", 80, false}, {"A", 20, true}}, rows)
}
