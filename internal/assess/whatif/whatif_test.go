// SPDX-License-Identifier: Apache-2.0

package whatif

import (
	"context"
	"encoding/csv"
	"strings"
	"testing"

	"boardhand/internal/assess"
	"boardhand/internal/rig"
)

// What differs is what was changed, and the lines that hang on it; none other.
func TestCompare(t *testing.T) {
	a := rig.Default()
	b, err := rig.Set("other.toml", []byte(rig.DefaultText), []rig.Setting{{Key: "lift.drop", Value: "6 mm"}, {Key: "camera.focus", Value: "600 mm"}}, rig.Machine)
	if err != nil {
		t.Fatal(err)
	}
	c := Compare(a, b)
	if len(c.Keys) != 2 || c.Keys[0] != (Key{"lift.drop", "20 mm", "6 mm"}) || c.Keys[1] != (Key{"camera.focus", "", "600 mm"}) {
		t.Errorf("keys %+v", c.Keys)
	}
	if c.Lines[0].ID != "neighbours.lowered" || c.Lines[0].turn() != 2 || c.Worst != [2]string{"pass", "fail"} {
		t.Errorf("%+v", c.Lines[0])
	}
	if len(c.Lines)+c.Same != len(c.A.Checks) {
		t.Errorf("%d differ, %d do not, of %d", len(c.Lines), c.Same, len(c.A.Checks))
	}
	for _, l := range c.Lines {
		if strings.HasPrefix(l.ID, "drive.x") || strings.HasPrefix(l.ID, "pull.") {
			t.Errorf("%s does not hang on the drop", l.ID)
		}
	}
}

// A wider square has more room beside its bases and less reach: as the judgement of each
// rig alone says, row by row.
func TestSweep(t *testing.T) {
	by, err := rig.ParseSweep("board.square=36:84:16mm")
	if err != nil {
		t.Fatal(err)
	}
	points, err := Sweep(context.Background(), "rig.toml", []byte(rig.DefaultText), nil, by)
	if err != nil || len(points) != 4 {
		t.Fatalf("%d, %v", len(points), err)
	}
	if points[3].Refused == "" || points[3].Checks != nil || !strings.Contains(points[3].Refused, "15 mm to 80 mm") {
		t.Errorf("a square of 84 mm: %+v", points[3])
	}
	var out strings.Builder
	if err := CSV(&out, by, points); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(out.String())).ReadAll() // all of one length
	if err != nil || len(rows) != 5 || rows[0][0] != "board.square [mm]" || rows[1][0] != "36" {
		t.Fatalf("%v, %v", rows, err)
	}
	for i, p := range points[:3] {
		alone, err := rig.Set("rig.toml", []byte(rig.DefaultText), []rig.Setting{by.Setting(i)}, rig.Machine)
		if err != nil {
			t.Fatal(err)
		}
		if want := assess.Worst(assess.Run(alone, nil)); p.Verdict != want || rows[i+1][1] != string(want) {
			t.Errorf("%s: %s, alone %s", p.Value, p.Verdict, want)
		}
	}
	if off := points[0].Off(assess.Fail); len(off) == 0 || points[0].Tightest() == nil {
		t.Errorf("36 mm: %v", off)
	}
}
