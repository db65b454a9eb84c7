// SPDX-License-Identifier: Apache-2.0

package propose

import (
	"math"
	"slices"
	"testing"

	"boardhand/internal/assess"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// wideStock varies what smallStock leaves as it is.
const wideStock = `
[[magnet]]
diameter = "8 mm"
thickness = "4 mm"
grade = "N42"
price = 2
use = "lift"
[[ballast]]
adds = "0 g"
[[ballast]]
adds = "3 g"
price = 0.1
[[gear]]
drive = "rack"
module = "1 mm"
teeth = 16
owned = 2
[[gear]]
drive = "belt"
pitch = "2 mm"
teeth = 20
backlash = "0.1 mm"
price = 11
[[motor]]
kind = "dc"
stall_torque = "0.30 N·m"
free_speed = "260 rpm"
counts = 360
voltage = "9 V"
current = "0.8 A"
owned = 2
[[motor]]
kind = "stepper"
stall_torque = "0.3 N·m"
free_speed = "600 rpm"
counts = 1600
voltage = "3 V"
current = "1.2 A"
inductance = "4 mH"
full_steps = 200
price = 12
[[supply]]
voltage = "9 V"
current = "4 A"
price = 9
[[supply]]
voltage = "12 V"
current = "3 A"
price = 12
[[lens]]
hfov = "62 deg"
owned = 1
[[lens]]
dfov = "78 deg"
image = [1920, 1080]
focal = "3 mm"
stop = 2.0
focus = "0.6 m"
price = 20
[try]
square = ["40 mm", "44 mm", "48 mm"]
acceleration = ["300 mm/s2", "500 mm/s2"]
drop = ["14 mm", "20 mm"]
speed = ["100 mm/s", "140 mm/s"]
camera_height = ["600 mm", "700 mm"]
box = "as needed"
`

// What a maker can set freely, or buy beside magnets, is varied and written: ballast, supply,
// lens, acceleration, drop, and a box for squares that the given one is too small for.
func TestMoreThanMagnetsVaries(t *testing.T) {
	s := spaceOf(t, wideStock)
	seen := map[string]map[string]bool{}
	for n := range s.Size() {
		for _, set := range s.Settings(n) {
			if seen[set.Key] == nil {
				seen[set.Key] = map[string]bool{}
			}
			seen[set.Key][set.Value] = true
		}
	}
	for _, key := range []string{"pieces.pawn.mass", "power.voltage", "power.current", "camera.image", "camera.hfov", "camera.focus", "axis.x.acceleration",
		"axis.y.jerk", "lift.drop", "axis.x.travel", "walls.left", "board.rim"} {
		if len(seen[key]) == 0 {
			t.Errorf("%s is never changed", key)
		}
	}
	got := searched(s)
	large := 0
	for _, p := range slices.Concat(got.Rigs, got.Pareto) {
		if slices.Contains(p.Free, "squares 48 mm") {
			large++
		}
	}
	if large == 0 {
		t.Error("no rig of 48 mm passes, though its box is as large as it needs")
	}
}

// A box as needed has room for its squares and trays, something for its sheet to lie on, and
// leads that are long enough, bought where those owned are not; the file says so.
func TestBoxAsNeeded(t *testing.T) {
	text, err := rig.Patch(rig.DefaultText, "cable.1.owned", `["300 mm"]`)
	if err != nil {
		t.Fatal(err)
	}
	for _, mode := range []string{"hand", "tray"} {
		for _, side := range []float64{30, 48, 60} {
			if text, err = rig.Patch(text, "removal.mode", quotedWord(mode)); err != nil {
				t.Fatal(err)
			}
			was, err := rig.Parse("rig.toml", []byte(text), rig.Machine)
			if err != nil {
				t.Fatal(err)
			}
			now := *was
			now.Board.SetSquare(unit.MM(side))
			enclosed(&now)
			written, err := Write(text, differing(was, &now))
			if err != nil {
				t.Fatal(err)
			}
			back, err := rig.Parse("new.toml", []byte(written), rig.Machine)
			if err != nil {
				t.Fatal(err)
			}
			for _, c := range assess.Judge(back) {
				if slices.Contains([]string{"reach.field", "reach.removal", "cables.length", "board.held"}, c.ID) && c.Verdict != assess.Pass {
					t.Errorf("%s, squares of %g mm: %s %s: %s", mode, side, c.ID, c.Verdict, c.Why)
				}
			}
			if owned := back.Cables[1].Owned; len(owned) != 2 || owned[0] != unit.MM(300) {
				t.Errorf("squares of %g mm: leads of %v for y", side, owned)
			}
		}
	}
}

func quotedWord(s string) string { return `"` + s + `"` }

// A lens sold by its diagonal sees as much in a rig that says its angle across.
func TestLensBothWays(t *testing.T) {
	across, diagonally := rig.Default(), rig.Default()
	diagonally.Camera.DFOV = hundredths(diagonal(&diagonally.Camera))
	for _, l := range []Lens{{HFOV: unit.Degrees(70)}, {DFOV: unit.Degrees(80)}, {HFOV: unit.Degrees(100)}} {
		a, b := *across, *diagonally
		l.put(across)(&a)
		l.put(diagonally)(&b)
		if a.Camera.DFOV != 0 || b.Camera.DFOV == 0 || math.Abs(float64(a.Camera.HFOV-b.Camera.HFOV)) > 1e-3 {
			t.Errorf("%+v is %v across (%v), and %v across by a diagonal of %v", l, a.Camera.HFOV, a.Camera.DFOV, b.Camera.HFOV, b.Camera.DFOV)
		}
	}
}
