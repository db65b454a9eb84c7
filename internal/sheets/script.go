// SPDX-License-Identifier: Apache-2.0

package sheets

import "boardhand/internal/draw"

// script writes headings, paragraphs and tables down the pages of a sheet, and begins a new
// page where one is full.
type script struct {
	paper Paper
	pages []*draw.Drawing
	room  draw.Rect
	y     float64 // the lowest line written on
}

func newScript(p Paper) *script {
	s := &script{paper: p}
	s.turn()
	return s
}

// turn begins a page.
func (s *script) turn() {
	d := &draw.Drawing{W: s.paper.W, H: s.paper.H}
	s.pages = append(s.pages, d)
	s.room = room(d.W, d.H)
	s.y = s.room.Y0
}

// page is the one written on.
func (s *script) page() *draw.Drawing { return s.pages[len(s.pages)-1] }

// need begins a page where less than so many millimetres are left; says whether it did.
func (s *script) need(high float64) bool {
	if s.y+high <= s.room.Y1 || s.y == s.room.Y0 {
		return false
	}
	s.turn()
	return true
}

// heading writes a heading that stays with what follows.
func (s *script) heading(text string) {
	s.need(8 * lineStep) // itself, a table's head and its first row
	s.y += 2 * lineStep
	s.page().Write(draw.Word{X: s.room.X0, Y: s.y, Text: text, Size: large, Bold: true})
	s.y += lineStep / 2
}

// paragraph writes text behind a mark, which may be "".
func (s *script) paragraph(mark, text string) {
	in := 0.0
	if mark != "" {
		in = draw.Word{Text: mark, Size: letter}.Width() + 2
	}
	lines := wrapped(text, s.room.X1-s.room.X0-in)
	s.need(float64(min(len(lines), 3)) * lineStep)
	for i, l := range lines {
		s.need(lineStep)
		s.y += lineStep
		if i == 0 && mark != "" {
			s.page().Write(draw.Word{X: s.room.X0, Y: s.y, Text: mark, Size: letter, Bold: true})
		}
		s.page().Write(draw.Word{X: s.room.X0 + in, Y: s.y, Text: l, Size: letter})
	}
	s.y += lineStep / 3
}

// tick writes text behind a box to be ticked.
func (s *script) tick(text string) {
	const side = 3.0
	lines := wrapped(text, s.room.X1-s.room.X0-2*side)
	s.need(float64(len(lines)) * lineStep)
	box(s.page(), s.room.X0, s.y+lineStep-side, s.room.X0+side, s.y+lineStep, draw.Ink{Width: 0.35})
	for _, l := range lines {
		s.y += lineStep
		s.page().Write(draw.Word{X: s.room.X0 + 2*side, Y: s.y, Text: l, Size: letter})
	}
	s.y += lineStep / 2
}

// column of a table: its head and its width, mm; 0: what the others leave.
type column struct {
	head  string
	width float64
	right bool // numbers
}

// table writes rows under a head, which a new page repeats.
func (s *script) table(columns []column, rows [][]string) {
	at := make([]float64, len(columns)+1)
	rest := s.room.X1 - s.room.X0
	for _, c := range columns {
		rest -= c.width
	}
	at[0] = s.room.X0
	for i, c := range columns {
		if c.width == 0 {
			c.width = rest
		}
		at[i+1] = at[i] + c.width
	}
	heads := make([]string, len(columns))
	for i, c := range columns {
		heads[i] = c.head
	}
	t := table{s, columns, at}
	first := t.cells(heads)
	s.need(t.high(first) + 3*lineStep)
	t.row(first, true)
	for _, r := range rows {
		c := t.cells(r)
		if s.need(t.high(c)) {
			t.row(first, true)
		}
		t.row(c, false)
	}
	s.y += lineStep / 2
}

// table is one being written: its columns begin at these places.
type table struct {
	*script
	columns []column
	at      []float64
}

// cells are a row's texts, each broken to its column.
func (t table) cells(row []string) (out [][]string) {
	for i, text := range row {
		out = append(out, wrapped(text, t.at[i+1]-t.at[i]-2))
	}
	return out
}

func (t table) high(cells [][]string) float64 {
	n := 1
	for _, c := range cells {
		n = max(n, len(c))
	}
	return float64(n)*lineStep + 1.4
}

func (t table) row(cells [][]string, head bool) {
	for i, c := range cells {
		for k, text := range c {
			w := draw.Word{X: t.at[i] + 0.5, Y: t.y + float64(k+1)*lineStep - 0.4, Text: text, Size: letter, Bold: head}
			if t.columns[i].right {
				w.X, w.At = t.at[i+1]-1.5, draw.Right
			}
			t.page().Write(w)
		}
	}
	t.y += t.high(cells)
	i := draw.Ink{Width: 0.13, Grey: true}
	if head {
		i = draw.Ink{Width: 0.35}
	}
	line(t.page(), t.at[0], t.y, t.at[len(t.at)-1], t.y, i)
}

// wrapped is text broken into lines of a width, mm.
func wrapped(text string, width float64) []string {
	return draw.Word{Text: text, Size: letter, Bold: true}.Wrapped(width)
}
