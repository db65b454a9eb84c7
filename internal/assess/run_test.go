// SPDX-License-Identifier: Apache-2.0

// Who checks whom in this package: the numbers come from magnet, drag, drive
// and optics, which are tied to published values there. Here it is tested that
// each single defect fails its own line and no other, that what a line suggests
// mends it when written into the file, and that no rig brings a NaN or a panic.
package assess

import (
	_ "embed"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
	"time"

	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// fixedText is a rig that passes, kept here so that these tests do not move
// with the default one.
//
//go:embed testdata/rig.toml
var fixedText string

// patched is the fixed rig with values written into its text.
func patched(t *testing.T, set ...Setting) *rig.Rig {
	t.Helper()
	text := fixedText
	var err error
	for _, s := range set {
		if text, err = rig.Patch(text, s.Key, s.Value); err != nil {
			t.Fatal(err)
		}
	}
	r, err := rig.Parse("rig.toml", []byte(text), rig.Machine)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func failing(checks []Check) (ids []string) {
	for _, c := range checks {
		if c.Verdict == Fail {
			ids = append(ids, c.ID)
		}
	}
	return ids
}

func TestDefaultRigPasses(t *testing.T) {
	start := time.Now()
	checks := Run(rig.Default(), nil)
	t.Logf("%d checks in %v", len(checks), time.Since(start))
	if ids := failing(checks); ids != nil {
		t.Errorf("the default rig fails %v", ids)
	}
	for _, c := range checks {
		if c.Verdict == Warn {
			t.Logf("the default rig is warned of %s: %s", c.ID, c.Why)
		}
	}
	for _, c := range Judge(patched(t)) {
		if c.Verdict == Warn && !strings.HasPrefix(c.ID, "caution.") || c.Verdict == Fail {
			t.Errorf("the fixed rig is to have reserve everywhere; %s: %s", c.ID, c.Why)
		}
	}
}

// One defect for each item of what must be computed, and more where an item
// has several lines.
var defects = []struct {
	name string
	set  []Setting
	id   string
}{
	{"coupling: a thick board", []Setting{{Key: "board.thickness", Value: `"12 mm"`}}, "pull.hold"},
	{"drag: a base that sticks", []Setting{{Key: "board.friction", Value: "0.9"}, {Key: "board.kinetic", Value: "0.1"}, {Key: "pieces.pawn.mass", Value: `"8 g"`}}, "drag.settle"},
	{"neighbours: a small drop", []Setting{{Key: "lift.drop", Value: `"6 mm"`}}, "neighbours.lowered"},
	{"lanes: a wide base", []Setting{{Key: "pieces.king.base", Value: `"22 mm"`}}, "lanes.foot"},
	{"tipping: a narrow base", []Setting{{Key: "pieces.pawn.base", Value: `"4.5 mm"`}}, "tip.foot"},
	{"lift: no spring", []Setting{{Key: "lift.spring", Value: `"0 N/mm"`}}, "lift.contact"},
	{"drive: a weak motor", []Setting{{Key: "axis.x.motor.stall_torque", Value: `"0.02 N·m"`}}, "drive.x"},
	{"reach: a short axis", []Setting{{Key: "axis.y.travel", Value: `"270 mm"`}}, "reach.field"},
	{"cables: a short lead", nil, "cables.length"},
	{"camera: too low", []Setting{{Key: "camera.height", Value: `"470 mm"`}}, "camera.coverage"},
	{"camera: set to a far focus", []Setting{{Key: "camera.focal", Value: `"8 mm"`}, {Key: "camera.stop", Value: "1.4"}, {Key: "camera.focus", Value: `"5 m"`}}, "camera.focus"},
	{"materials: too few bricks", []Setting{{Key: "walls.material", Value: `"brick"`}, {Key: "walls.owned", Value: "60"}}, "materials.walls"},
	{"drag: too fast a start", append(append(both("acceleration", `"13 m/s2"`, "speed", `"900 mm/s"`, "module", `"4 mm"`, "motor.counts", "4000"), both("motor.free_speed", `"600 rpm"`, "motor.stall_torque", `"1.3 N·m"`)...), Setting{Key: "board.kinetic", Value: "0.26"}), "drag.surge"},
	{"neighbours: heavy drive magnet", []Setting{{Key: "lift.diameter", Value: `"14 mm"`}, {Key: "lift.thickness", Value: `"8 mm"`}, {Key: "lift.drop", Value: `"40 mm"`}, {Key: "walls.height", Value: `"120 mm"`}}, "neighbours.raised"},
	{"lift: too stiff a spring", []Setting{{Key: "lift.spring", Value: `"2 N/mm"`}}, "lift.contact"},
	{"drive: coarse counts", []Setting{{Key: "axis.y.motor.counts", Value: "48"}}, "drive.resolution"},
	{"drive: play", []Setting{{Key: "axis.y.backlash", Value: `"3 mm"`}}, "drive.backlash"},
	{"drive: slow", []Setting{{Key: "axis.x.speed", Value: `"12 mm/s"`}}, "drive.time"},
	{"reach: walls", []Setting{{Key: "walls.right", Value: `"160 mm"`}}, "reach.field"},
	{"reach: trays", []Setting{{Key: "removal.mode", Value: `"tray"`}, {Key: "board.rim", Value: `"100 mm"`}}, "reach.removal"},
	{"cables: sockets", []Setting{{Key: "controller.ports", Value: "2"}}, "cables.ports"},
	{"camera: few pixels", []Setting{{Key: "camera.image", Value: "[320, 240]"}, {Key: "camera.height", Value: `"1200 mm"`}}, "camera.scale"},
	{"drive: a beam in short guides", []Setting{{Key: "axis.y.guide", Value: `"30 mm"`}, {Key: "axis.y.clearance", Value: `"0.06 mm"`}}, "drive.skew"},
	{"lanes: a wide top", []Setting{{Key: "pieces.knight", Value: `{ height = "37 mm", base = "15 mm", mass = "9 g", top = "22 mm" }`}}, "lanes.foot"},
	{"box: too low", []Setting{{Key: "walls.height", Value: `"72 mm"`}}, "lift.room"},
	{"box: a board that reaches no wall", []Setting{{Key: "board.rim", Value: `"0 mm"`}}, "board.held"},
	{"lift: a spring that lifts the board", []Setting{{Key: "lift.preload", Value: `"6 N"`}, {Key: "lift.spring", Value: `"1 N/mm"`}}, "board.pressed"},
	{"lift: a weak motor", []Setting{{Key: "lift.force", Value: `"0.6 N"`}}, "lift.force"},
	{"lift: steel rods", []Setting{{Key: "lift.steel", Value: `"3 mm"`}}, "lift.steel"},
	{"board: screws", []Setting{{Key: "board.steel", Value: `"4 mm"`}}, "board.steel"},
	{"trays: narrow slots", []Setting{{Key: "removal.mode", Value: `"tray"`}, {Key: "removal.slots", Value: "24"}, {Key: "axis.x.travel", Value: `"440 mm"`}, {Key: "walls.left", Value: `"260 mm"`}, {Key: "walls.right", Value: `"260 mm"`}, {Key: "board.rim", Value: `"100 mm"`}, {Key: "removal.gap", Value: `"40 mm"`}}, "removal.slots"},
	{"trays: off the sheet", []Setting{{Key: "removal.mode", Value: `"tray"`}, {Key: "axis.x.travel", Value: `"440 mm"`}, {Key: "walls.left", Value: `"260 mm"`}, {Key: "walls.right", Value: `"260 mm"`}, {Key: "board.held", Value: `"ledge"`}, {Key: "removal.gap", Value: `"40 mm"`}}, "removal.sheet"},
	{"power: motors over their voltage", []Setting{{Key: "power.voltage", Value: `"24 V"`}, {Key: "power.current", Value: `"8 A"`}}, "power.motors"},
	{"drive: a rotor behind a gearbox", []Setting{{Key: "axis.x.motor.inertia", Value: `"20 g·cm2"`}, {Key: "axis.x.motor.gearbox", Value: "48"}}, "drive.x"},
	{"power: a small supply", []Setting{{Key: "power.current", Value: `"1.5 A"`}}, "power.current"},
}

// both are settings of both axes.
func both(pairs ...string) (out []Setting) {
	for i := 0; i < len(pairs); i += 2 {
		out = append(out, Setting{Key: "axis.x." + pairs[i], Value: pairs[i+1]}, Setting{Key: "axis.y." + pairs[i], Value: pairs[i+1]})
	}
	return out
}

func defective(t *testing.T, i int) *rig.Rig {
	t.Helper()
	d := defects[i]
	r := patched(t, d.set...)
	if d.set == nil {
		for k := range r.Cables {
			r.Cables[k].Owned = []unit.Length{0.5}
		}
	}
	return r
}

func TestEachDefectFailsItsOwnLine(t *testing.T) {
	for i, d := range defects {
		checks := Judge(defective(t, i))
		if ids := failing(checks); !reflect.DeepEqual(ids, []string{d.id}) {
			t.Errorf("%s: fails %v, want %s alone", d.name, ids, d.id)
			for _, c := range checks {
				if c.Verdict == Fail || c.ID == d.id {
					t.Logf("   %s: %s (%s)", c.ID, c.Why, c.Verdict)
				}
			}
		}
	}
}

// Every change that a line suggests must turn that line to pass when it is
// written into the file.
func TestSuggestionsMend(t *testing.T) {
	for i, d := range defects {
		if d.set == nil {
			continue
		}
		start := time.Now()
		var c Check
		for _, k := range Run(defective(t, i), nil) {
			if k.ID == d.id {
				c = k
			}
		}
		took := time.Since(start)
		t.Logf("%s (%v): %s\n      %s", d.name, took.Round(time.Millisecond), c.Why, c.Change)
		if c.Change == "" || len(c.Fixes) == 0 {
			t.Errorf("%s: nothing is suggested", d.name)
		}
		for _, f := range c.Fixes {
			for _, k := range Judge(patched(t, append(append([]Setting{}, d.set...), f.Set...)...)) {
				if k.ID == d.id && k.Verdict != Pass {
					t.Errorf("%s: after %v the line is %s: %s", d.name, f, k.Verdict, k.Why)
				}
			}
		}
	}
}

// Random rigs inside the file's own limits: always the same lines, each with a
// finite number or a reason.
func TestAnyRigGetsAnAnswer(t *testing.T) {
	const seed = 5
	t.Log("seed", seed)
	rng := rand.New(rand.NewPCG(seed, 0))
	for range 25 {
		r := patched(t)
		scramble(rng, reflect.ValueOf(r).Elem())
		sane(t, Judge(r), fmt.Sprintf("%+v", *r))
	}
	sane(t, Judge(&rig.Rig{}), "empty rig")
	sane(t, Run(&rig.Rig{}, nil), "empty rig")
}

// scramble multiplies numbers by random factors, and now and then breaks one.
func scramble(rng *rand.Rand, v reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				scramble(rng, v.Field(i))
			}
		}
	case reflect.Float64:
		switch x := rng.IntN(60); x {
		case 0:
			v.SetFloat(0)
		case 1:
			v.SetFloat(-v.Float())
		case 2:
			v.SetFloat([]float64{math.NaN(), math.Inf(1), 1e300, 1e-300}[rng.IntN(4)])
		default:
			v.SetFloat(v.Float() * math.Exp(rng.NormFloat64()/3))
		}
	case reflect.Int:
		if v.CanSet() && rng.IntN(30) == 0 {
			v.SetInt(int64(rng.IntN(3) - 1))
		}
	case reflect.String:
		if v.CanSet() && rng.IntN(60) == 0 {
			v.SetString("")
		}
	}
}

func sane(t *testing.T, checks []Check, what string) {
	t.Helper()
	if len(checks) < len(probes) {
		t.Errorf("%d lines, want at least %d", len(checks), len(probes))
	}
	for _, c := range checks {
		if c.Verdict != Pass && c.Verdict != Warn && c.Verdict != Fail || c.Why == "" || c.ID == "" {
			t.Errorf("%s: line without verdict or reason: %+v", what, c)
		}
		for _, v := range []float64{c.Value, c.Limit, c.Margin, c.Share} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("%s: %s has %g", what, c.ID, v)
			}
		}
		if strings.Contains(c.Why+c.Change+c.Explain, "NaN") && !strings.Contains(what, "NaN") {
			t.Errorf("%s: %s says NaN: %s %s", what, c.ID, c.Why, c.Explain)
		}
	}
}

func TestTableIsFineEnough(t *testing.T) {
	s := newStudy(patched(t), nil)
	if n, share := s.table.Deviation(); share > 1e-4 {
		t.Errorf("the force table is off by %g N, %g of the largest pull", n, share)
	}
}

func BenchmarkRunDefault(b *testing.B) {
	r := rig.Default()
	for b.Loop() {
		Run(r, nil)
	}
}

func BenchmarkJudgeDefault(b *testing.B) {
	r := rig.Default()
	for b.Loop() {
		Judge(r)
	}
}

func ExampleRun() {
	text, err := rig.Patch(fixedText, "lift.drop", `"9 mm"`)
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := rig.Parse("rig.toml", []byte(text), rig.Machine)
	if err != nil {
		fmt.Println(err)
		return
	}
	c := Run(r, nil)[0]
	fmt.Printf("%s: %s\n%s\n", c.Verdict, c.ID, c.Fixes[0])
	// Output:
	// fail: neighbours.lowered
	// set lift.drop = "11.5 mm" (9 → 11.5 mm, limit 10.7)
}
