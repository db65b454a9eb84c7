// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"strings"
	"testing"

	"boardhand/internal/axes"
	"boardhand/internal/rig"
)

// A field with fewer ranks than files asks less of front and back, takes less time
// to cross, and a lower camera sees it.
func TestFieldOfAnotherSize(t *testing.T) {
	line := func(files, ranks int, id string) Check {
		r := rig.Default()
		r.Board.Files, r.Board.Ranks = files, ranks
		for _, c := range Run(r, nil) {
			if c.ID == id {
				return c
			}
		}
		t.Fatalf("no line %s", id)
		return Check{}
	}
	if c := line(8, 4, "drive.time"); !strings.HasPrefix(c.Why, "seven squares along and three up take ") || !strings.Contains(c.Formula, "over 7 and 3 squares") || c.Value >= line(8, 8, "drive.time").Value {
		t.Errorf("%+v", c)
	}
	if c := line(8, 4, "reach.field"); !strings.Contains(c.Formula, "against 3.5 (sides) and 1.5 (front and back) squares") {
		t.Errorf("%s", c.Formula)
	}
	if whole, part := line(8, 8, "camera.coverage"), line(5, 5, "camera.coverage"); part.Limit >= whole.Limit {
		t.Errorf("five squares want the camera at %g mm, eight at %g", part.Limit, whole.Limit)
	}
	for i, want := range [4]float64{140, 140, 60, 60} {
		r := rig.Default()
		r.Board.Files, r.Board.Ranks = 8, 4
		if s := axes.Ways(r, 0)[i]; mm(s.Need) != want {
			t.Errorf("%s must be reached to %.1f mm, want %.1f", s.Name, mm(s.Need), want)
		}
	}
}
