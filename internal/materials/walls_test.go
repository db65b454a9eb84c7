// SPDX-License-Identifier: Apache-2.0

package materials

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// The elements of the lists have the volume of the walls: courses of the ring's plan,
// cell by cell, whatever they are laid of.
func TestElementsFillTheWalls(t *testing.T) {
	r := pocketSet(t)
	r.Walls.Height = unit.MM(70) // 7 courses of 9.6 mm and one of 3.2 mm reach 70.4 mm
	l := Of(r, nil)
	cells := map[string]int{}
	for _, x := range l.In(InWalls) {
		var wide, long int
		var course string
		if _, err := fmt.Sscanf(x.Name, "element %d × %d, %s", &wide, &long, &course); err == nil {
			cells[course] += wide * long * x.Need
			if want := int(math.Ceil(0.05 * float64(x.Need))); x.Spare != want {
				t.Errorf("%s: %d spare, want %d", x.Name, x.Spare, want)
			}
		}
	}
	plan := 0 // 256 mm are 32 units inside, 36 outside
	for x := range 36 {
		for y := range 36 {
			if x < 2 || y < 2 || x >= 34 || y >= 34 {
				plan++
			}
		}
	}
	if cells["full"] != 7*plan || cells["plate"] != plan {
		t.Errorf("cells %v, the plan has %d", cells, plan)
	}
}

// Elements owned are taken off by their length, those of the rig's walls.owned from the
// fours; a stock that names lengths has its own laid, and one that gives no bond is said.
func TestOwnedElements(t *testing.T) {
	r := pocketSet(t)
	r.Walls.Owned = 100
	if x := line(t, Of(r, nil), "element 2 × 4, full"); x.Owned != 100 {
		t.Errorf("%+v", x)
	}
	l := Of(r, stockOf(t, "[[element]]\nunits = 6\nowned = 50\n[[element]]\nunits = 2\nprice = 0.1\n[[element]]\nunits = 3\n"))
	if x := line(t, l, "element 2 × 6, full"); x.Owned != 50 || x.Need <= 50 {
		t.Errorf("%+v", x)
	}
	for _, x := range l.Lines {
		if strings.HasPrefix(x.Name, "element 2 × 4") {
			t.Errorf("fours are laid that the stock does not name: %+v", x)
		}
	}
	l = Of(r, stockOf(t, "[[element]]\nunits = 8\nprice = 0.3\n"))
	if !strings.Contains(strings.Join(l.Notes, "\n"), "no bond") || len(l.Walls.Ring.Courses[0].X.Elements) == 0 {
		t.Errorf("a stock of eights: %q", l.Notes)
	}
}

// Panels cut by hand: 400 mm inside, 6 mm thick. The parts laid are the parts listed,
// and their area that of walls and floor.
func TestPanelsByHand(t *testing.T) {
	l := Of(rig.Default(), nil)
	area := 0.0
	for _, s := range l.Walls.Panels.Sheets {
		for _, p := range s {
			area += p.Width.MM() * p.Height.MM()
		}
	}
	if want := 2*412.0*96 + 2*400*96 + 412*412; math.Abs(area-want) > 1e-6 {
		t.Errorf("%g mm², want %g", area, want)
	}
	r := rig.Default()
	r.Walls.Owned = 4
	if l = Of(r, nil); len(l.Walls.Parts) != 1 {
		t.Errorf("four panels are owned, and cut are %v", l.Walls.Parts)
	}
	s := stockOf(t, "[[panel]]\nwidth = \"300 mm\"\nlength = \"300 mm\"\nthickness = \"6 mm\"\nprice = 3\n")
	if l = Of(rig.Default(), s); !strings.Contains(strings.Join(l.Notes, "\n"), "does not fit on a sheet of 300 mm × 300 mm") {
		t.Errorf("notes: %q", l.Notes)
	}
}
