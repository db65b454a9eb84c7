// SPDX-License-Identifier: Apache-2.0

package sheets

import (
	"strings"
	"testing"

	"boardhand/internal/draw"
	"boardhand/internal/materials"
	"boardhand/internal/rig"
)

// Lines are no wider than asked, hold every letter in order, and none begins with a unit.
func TestWrapped(t *testing.T) {
	const text = "x axis: 2 of 79 teeth (248.2 mm) × 1 row: 111 teeth for 336 mm travel, and a-word-that-is-far-wider-than-any-column-of-a-table"
	for _, width := range []float64{12, 25, 60, 400} {
		lines := wrapped(text, width)
		for _, l := range lines {
			if w := (draw.Word{Text: l, Size: letter}).Width(); w > width {
				t.Errorf("%q is %.1f mm wide, of %g", l, w, width)
			}
			if strings.HasPrefix(l, "mm") && width > 20 {
				t.Errorf("%q begins with a unit", l)
			}
		}
		whole := strings.ReplaceAll(text, " ", "")
		if got := strings.ReplaceAll(strings.Join(lines, ""), " ", ""); got != whole {
			t.Errorf("of %q became %q", whole, got)
		}
	}
	if len(wrapped("", 10)) != 0 {
		t.Error("empty text has lines")
	}
}

// A long table goes on over pages, each with its head, and holds every row once.
func TestTablesGoOnOverPages(t *testing.T) {
	s := newScript(Papers[0])
	var rows [][]string
	for range 120 {
		rows = append(rows, []string{"cell", "2"})
	}
	s.table([]column{{"name", 0, false}, {"count", 30, true}}, rows)
	heads, cells := 0, 0
	for _, p := range s.pages {
		for _, w := range p.Words() {
			switch w.Text {
			case "count":
				heads++
			case "2":
				cells++
			}
		}
	}
	if len(s.pages) < 3 || heads != len(s.pages) || cells != 120 {
		t.Errorf("%d pages, %d heads, %d rows", len(s.pages), heads, cells)
	}
}

// bricks is the built-in machine with walls of elements, and the pieces of both sides
// carried.
func bricks(t *testing.T) *rig.Rig {
	t.Helper()
	r := *rig.Default()
	r.Walls.Material, r.Pieces.Carried = "brick", "both"
	return &r
}

// Every disc of the lists is on the sheet to be cut, in its size, and so is every pocket.
func TestDiscsAreOnTheSheet(t *testing.T) {
	o := orderOf(bricks(t), Papers[0])
	s, err := bases(&o)
	if err != nil {
		t.Fatal(err)
	}
	want := map[float64]int{}
	for _, r := range o.Parts.Feet.Rings {
		outer := mm(r.Outer) / 2
		want[roundTo(outer)] += r.Discs() + r.Count + r.Spare // and a cover each
		want[roundTo(mm(r.Pocket)/2)] += r.Discs()
	}
	rec := &recorder{}
	s.Whole.Play(rec)
	for _, c := range rec.circles {
		want[roundTo(c[2])]--
	}
	for radius, n := range want {
		if n != 0 {
			t.Errorf("%d circles of radius %g mm are missing", n, radius)
		}
	}
}

func roundTo(v float64) float64 { return float64(int(v*1000+0.5)) / 1000 }

// Walls of elements are drawn element by element: as many boxes as two courses have.
func TestCoursesAreDrawn(t *testing.T) {
	o := orderOf(bricks(t), Papers[0])
	s, err := courses(&o)
	if err != nil || len(s.Pages) != 3 {
		t.Fatalf("%d pages, %v", len(s.Pages), err)
	}
	for k, c := range o.Parts.Walls.Ring.Courses {
		rec := &recorder{}
		s.Pages[k].Play(rec)
		elements := 2 * (len(c.X.Elements) + len(c.Y.Elements))
		if n := len(rec.lines); n < 4*elements || n > 4*elements+40 { // and two dimensions
			t.Errorf("course %d: %d lines for %d elements", k+1, n, elements)
		}
	}
	o.Rig = rig.Default()
	o.Parts = materials.Of(o.Rig, nil)
	if s, err := courses(&o); err != nil || len(s.Pages) != 0 {
		t.Errorf("panels have %d pages of courses, %v", len(s.Pages), err)
	}
	o.Only = []string{"courses"}
	if _, err := Draw(o); err == nil || !strings.Contains(err.Error(), "nothing to draw") {
		t.Errorf("courses of panels are asked for: %v", err)
	}
}

// Every line of the lists stands on the sheet of materials, and every lead twice on that
// of wiring: in the picture and in the table.
func TestListsAreComplete(t *testing.T) {
	o := orderOf(bricks(t), Papers[2])
	text := map[string]string{}
	for _, name := range []string{"materials", "wiring"} {
		o.Only = []string{name}
		all, err := Draw(o)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range all[0].Pages {
			for _, w := range p.Words() {
				if name == "wiring" || w.X < marginLeft+5 { // the first column
					text[name] += strings.ReplaceAll(w.Text, " ", "")
				}
			}
		}
	}
	for _, l := range o.Parts.Lines {
		if !strings.Contains(text["materials"], strings.ReplaceAll(l.Name, " ", "")) {
			t.Errorf("%q is not on the sheet of materials", l.Name)
		}
	}
	for _, l := range o.Parts.Wiring.Leads {
		if n := strings.Count(text["wiring"], strings.ReplaceAll(l.Name, " ", "")); n < 2 {
			t.Errorf("%q is %d times on the sheet of wiring", l.Name, n)
		}
	}
}
