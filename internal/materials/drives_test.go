// SPDX-License-Identifier: Apache-2.0

package materials

import (
	"math"
	"strings"
	"testing"

	"boardhand/internal/unit"
)

// Racks by hand: 336 mm at module 1 are 111 teeth with what is beyond the mesh. Of ten
// teeth a piece that is 12 a row, of bricks 24 for both axes in one row and two spare.
func TestSmallRacksByHand(t *testing.T) {
	r := rigOf(t, `material = "panel"`, `material = "brick"`)
	l := Of(r, nil)
	x := line(t, l, "rack, module 1 mm, 10 teeth")
	if x.Need != 24 || x.Spare != 2 || !strings.Contains(x.Why, "12 of 10 teeth (31.4 mm)") || !strings.Contains(x.Why, "336 mm travel") {
		t.Errorf("%+v", x)
	}
	for _, d := range l.Drives {
		if d.Piece*unit.Length(d.Pieces) < d.Need || d.Need.MM() < 336+4*math.Pi-1e-9 {
			t.Errorf("%+v is too short", d)
		}
	}
	x = line(t, Of(r, stockOf(t, "[[rack]]\nmodule = \"1 mm\"\nteeth = 10\nowned = 20\n[[rack]]\nmodule = \"2 mm\"\nteeth = 10\nowned = 99\n")), "rack")
	if x.Owned != 20 || x.Buy() != 6 {
		t.Errorf("20 are owned: %+v", x)
	}
}

// Two rows take twice the racks, and a pinion each.
func TestRowsByHand(t *testing.T) {
	l := Of(clubTable(t), nil)
	if d := l.Drives[0]; d.Rows != 2 || d.Pieces != 6 || d.Teeth != 164 { // 500 mm/π = 159.2, 160 and 4; 79 teeth a piece
		t.Errorf("%+v", d)
	}
	if x := line(t, l, "pinion"); x.Need != 4 {
		t.Errorf("%+v", x)
	}
}

// Belts of the stock: two rows come from one roll, owned ones first; one that is too
// short for a row is left.
func TestBeltsAndScrews(t *testing.T) {
	r := pocketSet(t) // 546 mm open
	r.Axis.X.Rows = 2
	s := stockOf(t, "[[belt]]\npitch = \"2 mm\"\nlength = \"500 mm\"\nowned = 9\n[[belt]]\npitch = \"2 mm\"\nlength = \"1200 mm\"\nowned = 2\n[[belt]]\npitch = \"2 mm\"\nlength = \"600 mm\"\nprice = 1\n")
	l := Of(r, s)
	if d := l.Drives[0]; d.Pieces != 1 || d.Piece != unit.MM(1200) {
		t.Errorf("two rows of 546 mm come from one belt of 1200 mm; got %+v", d)
	}
	if x := line(t, l, "belt, pitch 2 mm, 1200 mm"); x.Need != 2 || x.Buy() != 0 {
		t.Errorf("%+v", x)
	}
	r.Axis.Y.Drive, r.Axis.Y.Lead = "screw", unit.MM(8)
	l = Of(r, nil)
	if d := l.Drives[1]; d.Need != unit.MM(255) || d.Piece != unit.MM(300) || d.Pieces != 1 { // 200 + 15 + 2·20
		t.Errorf("%+v", d)
	}
	r.Axis.Y.Travel = 2.5
	if d := Of(r, nil).Drives[1]; d.Piece < d.Need {
		t.Errorf("a screw beyond all common lengths: %+v", d)
	}
}
