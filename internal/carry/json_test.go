// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"context"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardhand/internal/carry/plan"
	"boardhand/internal/game"
	"boardhand/internal/lanes"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

var update = flag.Bool("update", false, "write the golden files anew")

// What `route` prints for one capture, in full.
func TestJSONOfACapture(t *testing.T) {
	p := planner(t, func(r *rig.Rig) { r.Pieces.Magnet.Diameter = unit.MM(5) })
	pos := position(t, "4k3/8/8/3p4/4P3/8/8/4K3 b - - 0 1")
	m, err := pos.ParseUCI("d5e4")
	if err != nil {
		t.Fatal(err)
	}
	made, err := p.Move(context.Background(), p.scene(&pos, nil, 0), pos, m)
	if err != nil {
		t.Fatal(err)
	}
	got, err := JSON(made, plan.Told{Kinds: &game.ChessKinds, Places: p.rig.Beside})
	if err != nil {
		t.Fatal(err)
	}
	text := strings.ReplaceAll(string(got), `{"do"`, "\n"+`{"do"`) + "\n"
	file := filepath.Join("testdata", "capture.json")
	if *update {
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if text != string(want) {
		t.Errorf("got %s\nwant %s", text, want)
	}
	if !json.Valid(got) {
		t.Error("not valid JSON")
	}
}

// With too small a drop the lowered magnet goes round the pieces it would drag;
// with enough it goes straight.
func TestEmptyTravelGoesRoundWhatItWouldDrag(t *testing.T) {
	pos := position(t, "4k3/8/8/8/4p3/8/4r3/K7 b - - 0 1")
	m, err := pos.ParseUCI("e4e3")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		drop     float64
		straight bool
	}{{0.020, true}, {0.004, false}} {
		p := planner(t, func(r *rig.Rig) { r.Lift.Drop = unit.Length(c.drop) })
		s := p.scene(&pos, nil, 0)
		s.Carriage = lanes.Spot{X: p.side / 2, Y: -4 * p.side}
		plan, err := p.Move(context.Background(), s, pos, m)
		if err != nil || plan.Doubt != "" {
			t.Fatal(err, plan.Doubt)
		}
		travel := plan.Steps[0]
		if travel.Do != Travel {
			t.Fatalf("the first step is %s", travel.Do)
		}
		if (len(travel.Path) == 2) != c.straight {
			t.Errorf("drop %g m (safe lowered distance %.1f mm): path %v", c.drop, p.limits.LoweredPass*1e3, travel.Path)
		}
		rook := p.Centre(12)
		if _, d := nearestOn(travel.Path, rook); d < p.limits.LoweredPass {
			t.Errorf("drop %g m: the lowered magnet passes the rook at %.1f mm, %.1f mm is safe", c.drop, d*1e3, p.limits.LoweredPass*1e3)
		}
	}
}
