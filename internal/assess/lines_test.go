// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/assess/eye"
	"boardhand/internal/assess/line"
	"boardhand/internal/axes"
	"boardhand/internal/game"
	"boardhand/internal/magnet"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.6g, want %.6g ± %g", what, got, want, tolerance)
	}
}

func lineNamed(t *testing.T, r *rig.Rig, id string) Check {
	t.Helper()
	for _, c := range Judge(r) {
		if c.ID == id {
			return c
		}
	}
	t.Fatalf("no line %s", id)
	return Check{}
}

// The reference points of package drag, seen through a rig: Br 1.30 T exactly,
// no warp, μs 0.30. The camera's doubt adds 0.5 mm, the carriage's place its own.
func TestReferencePointsThroughARig(t *testing.T) {
	for _, w := range []struct{ d, l, fd, fl, grams, safe float64 }{
		{8, 4, 6, 2, 6, 15.3}, {6, 3, 6, 2, 6, 13.0}, {10, 5, 8, 3, 6, 28.9}, {15, 8, 8, 3, 14, 31.4},
	} {
		r := patched(t)
		r.Board.Warp = 0
		r.Lift.Grade, r.Pieces.Magnet.Grade = "1.30 T", "1.30 T"
		r.Lift.Diameter, r.Lift.Thickness = unit.MM(w.d), unit.MM(w.l)
		r.Pieces.Magnet.Diameter, r.Pieces.Magnet.Thickness = unit.MM(w.fd), unit.MM(w.fl)
		for _, k := range game.ChessKinds.All() {
			r.Pieces.Of(k).Mass = unit.Grams(w.grams)
		}
		c := lineNamed(t, r, "neighbours.raised")
		// The reference was scanned in steps of 0.1 mm, rounded down.
		near(t, "safe", math.Floor((c.Value-0.5-mm(newStudy(r, nil).placement()))*10+1e-6)/10, w.safe, 1e-9)
		if (c.Verdict == Fail) != (c.Value > 20) {
			t.Errorf("value %g: %s", c.Value, c.Verdict)
		}
	}
}

// Lowering a magnet is the same as a thicker board: the force there must be
// below friction just at the drop the line names.
func TestLoweredAgainstTheForceItself(t *testing.T) {
	r := patched(t)
	c := lineNamed(t, r, "neighbours.lowered")
	s := newStudy(r, nil)
	gap := float64(s.Rig.Gap()-s.Rig.Board.Warp/2) + (c.Value-c.AsDrawn())*1e-3 // bowed down by half the warp
	worst := math.Inf(-1)
	for x := 0.0; x < 0.08; x += 0.1e-3 {
		p, err := magnet.Force(s.Pair.Lower, s.Pair.Upper, unit.Length(gap), unit.Length(x))
		if err != nil {
			t.Fatal(err)
		}
		worst = math.Max(worst, s.Spread.Strong*math.Abs(p.Lateral)-0.30*math.Max(0, weightOf(s.lightest())+s.Spread.Strong*p.Axial))
	}
	near(t, "pull over friction at the least drop", worst, 0, 2e-4)
}

// Counted by hand: inside 400 × 400 mm is 50 units a side. A course is two walls of
// 54 through the corners and two of 50 between them, 208 units: 52 bricks of four
// would do, but joints must not lie over joints, so that some run is closed by another
// length. 96 mm are ten courses, and a twentieth is spare.
func TestBricksCountedByHand(t *testing.T) {
	r := patched(t, Setting{Key: "walls.material", Value: `"brick"`})
	b := BillOf(r)
	if b.Walls < 480 || b.Walls > 540 || b.Spare < 24 || b.Spare > 28 || b.Courses != 10 || b.OffGrid != 0 {
		t.Errorf("got %+v", b)
	}
	r.Walls.Left += unit.MM(3)
	if b = BillOf(r); b.OffGrid < unit.MM(4.9) || b.OffGrid > unit.MM(5.1) {
		t.Errorf("403 mm is 5 mm short of 51 studs; got %v", b.OffGrid)
	}
	if r.Pieces.Carried = "both"; BillOf(r).Feet != 34 {
		t.Errorf("both sides take 32 magnets and two spare; got %d", BillOf(r).Feet)
	}
}

// 150 + 60 + 336/2 + π·20 for the y motor; the x motor rides on both axes.
func TestCableLengthsByHand(t *testing.T) {
	needs := axes.CableNeeds(patched(t))
	if len(needs) != 3 {
		t.Fatalf("got %+v", needs)
	}
	loop := 168 + math.Pi*20
	near(t, "x", mm(needs[0].Need), 210+2*loop, 1e-9)
	near(t, "y", mm(needs[1].Need), 210+loop, 1e-9)
	near(t, "lift", mm(needs[2].Need), 210+2*loop, 1e-9)
	near(t, "y takes the shorter lead", mm(needs[1].Owned), 500, 1e-9)
}

// 320 mm over 720 of 1280 pixels at 62° across.
func TestCameraHeightByHand(t *testing.T) {
	r := patched(t)
	tangent := 2 * math.Tan(31*math.Pi/180) * 720 / 1280
	heads := 52 + (7*40+0.6*17)/tangent
	exact, err := eye.HeightNeeded(r, 0)
	near(t, "height of a camera hung exactly", exact*1e3, math.Max(320/tangent, heads), 1e-6)
	// Hung by eye: each deviation by its own, even between its ends, added as squares;
	// 145.1 mm from the middle to the heads, 52 mm up, and the limit found by trying.
	least := lineNamed(t, r, "camera.coverage").Limit
	spread := 0.0
	for _, most := range []float64{8, 0.026 * least * (1 + tangent*tangent/4), 0.035 * 145.1, 12 * tangent / 2, 0.02 * 145.1, 8 * least / (640 / math.Tan(31*math.Pi/180))} {
		spread += most * most / 3
	}
	near(t, "half the picture at the heads", (least-52)*tangent/2, 145.1+math.Sqrt(spread), 1e-3)
	if err != nil {
		t.Error(err)
	}
	near(t, "pixels a square", lineNamed(t, r, "camera.scale").Value, 640/math.Tan(31*math.Pi/180)*40/600, 1e-6)
	// King on a1: 140·52/548 of lean, half a head magnified, less half a square.
	near(t, "lean", lineNamed(t, r, "camera.lean").Value, 140*52/548.0+0.3*17*600/548-20, 1e-6)
}

func TestLeanNamesItsSquares(t *testing.T) {
	r := patched(t, Setting{Key: "camera.height", Value: `"520 mm"`})
	c := lineNamed(t, r, "camera.lean")
	if c.Verdict != Warn || !strings.Contains(c.Why, "a1 to h8") || !strings.Contains(c.Why, "king") {
		t.Errorf("got %s: %s", c.Verdict, c.Why)
	}
	for _, k := range Run(r, nil) {
		if k.ID == c.ID && (!strings.Contains(k.Change, "camera.height") || !strings.Contains(k.Change, "accept that the king")) {
			t.Errorf("change: %s", k.Change)
		}
	}
}

// A tall king near a low camera hides the pawn behind it.
func TestHiddenPieces(t *testing.T) {
	low := patched(t, Setting{Key: "camera.height", Value: `"300 mm"`}, Setting{Key: "pieces.king.height", Value: `"95 mm"`})
	high := patched(t, Setting{Key: "camera.height", Value: `"900 mm"`}, Setting{Key: "pieces.king.height", Value: `"95 mm"`})
	a, b := lineNamed(t, low, "camera.hidden"), lineNamed(t, high, "camera.hidden")
	if !(a.Value > b.Value) || a.Verdict != Fail || b.Verdict != Pass {
		t.Errorf("low: %g %% %s; high: %g %% %s", a.Value, a.Verdict, b.Value, b.Verdict)
	}
}

func TestReachByHand(t *testing.T) {
	r := patched(t)
	s := newStudy(r, nil)
	for _, d := range s.sides() {
		near(t, d.Name, mm(d.Reach), 168-0.2, 1e-9)
		near(t, d.Name+" need", mm(d.Need), 140+mm(s.settle.Lead)+0.5, 1e-9)
	}
	r = patched(t, Setting{Key: "removal.mode", Value: `"chute"`}, Setting{Key: "removal.chute", Value: `["170 mm", "0 mm"]`})
	if c := lineNamed(t, r, "reach.removal"); c.Verdict != Fail || !strings.Contains(c.Why, "right") {
		t.Errorf("a chute at 170 mm is out of reach: got %s %s", c.Verdict, c.Why)
	}
}

func TestCautionsNameTheirSources(t *testing.T) {
	all := Cautions(patched(t))
	want := []string{"swallow", "implant", "pinch", "heat", "glue", "cutting", "cables", "voltage", "moving", "codes"}
	if len(all) != len(want) {
		t.Fatalf("got %d cautions", len(all))
	}
	for i, c := range all {
		if c.ID != want[i] || c.Text == "" || c.Source == "" {
			t.Errorf("%+v", c)
		}
	}
	index := fmt.Sprintf("%.0f", lineNamed(t, patched(t), "caution.flux").Value)
	if !strings.Contains(all[0].Text, index) {
		t.Errorf("the index of this rig's magnets is missing: %s", all[0].Text)
	}
	if Cautions(&rig.Rig{})[0].Text == "" {
		t.Error("an empty rig is cautioned too")
	}
}

func TestExplain(t *testing.T) {
	for _, p := range Judge(patched(t)) {
		text, err := Explain(patched(t), p.ID)
		if err != nil || !strings.Contains(text, p.Why) {
			t.Errorf("%s: %v", p.ID, err)
		}
		if p.Formula == "" || p.Source == "" || p.Range == "" || p.Title == "" {
			t.Errorf("%s has no formula, source, range or title", p.ID)
		}
		if p.Explain == "" {
			t.Errorf("%s explains nothing", p.ID)
		}
	}
	if _, err := Explain(patched(t), "nonsense"); err == nil || !strings.Contains(err.Error(), "pull.hold") {
		t.Errorf("got %v", err)
	}
}

// Whatever text the parser lets through gets an answer.
func FuzzAssess(f *testing.F) {
	f.Add("board.square", `"40 mm"`)
	f.Add("lift.diameter", `"60 mm"`)
	f.Add("board.warp", `"5 mm"`)
	f.Add("camera.height", `"150 mm"`)
	f.Add("pieces.king.height", `"150 mm"`)
	f.Fuzz(func(t *testing.T, key, value string) {
		text, err := rig.Patch(fixedText, key, value)
		if err != nil {
			return
		}
		r, err := rig.Parse("fuzz.toml", []byte(text), rig.Machine)
		if err != nil {
			return
		}
		sane(t, Judge(r), key+" = "+value)
	})
}

// A warning shows the limit that it misses, not the one that it keeps.
func TestWarningShowsWhatItMisses(t *testing.T) {
	for want, c := range map[string]Check{
		"warn a 30 true 50 -20":   Check{ID: "a"}.AtLeast(30, 0, 50),
		"warn b 30 false 20 -10":  Check{ID: "b"}.AtMost(30, 40, 20),
		"pass c 60 true 0 60":     Check{ID: "c"}.AtLeast(60, 0, 50),
		"fail d -3 true 0 -3":     Check{ID: "d"}.AtLeast(-3, 0, 50),
		"fail e 50 false 40 -10":  Check{ID: "e"}.AtMost(50, 40, 20),
		"warn f 0.9 false 0 -0.9": Check{ID: "f"}.AtMost(0.9, 20, 0), // a reserve of zero is one
		"pass g 20 false 20 0":    Check{ID: "g"}.AtMost(20, 20, 20), // at its limit
	} {
		if got := fmt.Sprint(c.Verdict, " ", c.ID, " ", line.Figure(c.Value), " ", c.Above(), " ", line.Figure(c.Missed()), " ", line.Figure(c.Spare())); got != want {
			t.Errorf("got  %q\nwant %q", got, want)
		}
		if !c.HasNumber() {
			t.Errorf("%s: no number", c.ID)
		}
	}
	if (Check{}).Failed(errors.New("no answer")).HasNumber() || (Check{}).Open("b").HasNumber() || !(Check{}).AtMost(0, 0, 0).HasNumber() {
		t.Error("a line has a number where it was worked out, 0 too")
	}
}

// A warning that the maker accepts counts no more; what fails does, and what is accepted in
// vain is said.
func TestAccepted(t *testing.T) {
	tight := []Setting{{Key: "board.square", Value: `"44 mm"`}} // camera.coverage warns
	r := patched(t, tight...)
	if c := ReportOn(r); c.Verdict != Warn || c.Tally().Warn != 1 {
		t.Fatalf("%s, %+v", c.Verdict, c.Tally())
	}
	r.Accept = rig.Accepted{"camera.coverage": "measured on the bench", "pull.hold": "no need", "caution.flux": "all glued and capped"}
	c := ReportOn(r)
	if n := c.Tally(); c.Verdict != Pass || n.Warn != 0 || n.Accepted != 1 || n.Seen != 1 || n.Cautions != 0 || len(c.Remarks) != 1 || !strings.Contains(c.Remarks[0], "pull.hold, which passes") {
		t.Errorf("%s, %+v, %q", c.Verdict, n, c.Remarks)
	}
	if err := Unknown(r, c.Checks); err != nil {
		t.Error(err)
	}
	r.Accept = rig.Accepted{"camera.coverag": "typed wrongly"}
	if err := Unknown(r, c.Checks); err == nil || !strings.Contains(err.Error(), "nearest: camera.coverage") {
		t.Error(err)
	}
	r = patched(t, Setting{Key: "lift.drop", Value: `"6 mm"`})
	r.Accept = rig.Accepted{"neighbours.lowered": "it will do"}
	if c := ReportOn(r); c.Verdict != Fail || len(c.Remarks) != 1 || !strings.Contains(c.Remarks[0], "only a warning") {
		t.Errorf("%s, %q", c.Verdict, c.Remarks)
	}
}

// By hand: 60 mm of carriage, 20 of drop, 0.5 of air and 3 over the floor; 160 + 12 + 34 mm
// of sheet over a wall at 200; (412 mm)²·4 mm of 600 kg/m³ is 0.407 kg, which tips about
// its far edge, 206 mm from the middle, under a push 140 mm from the middle.
func TestBoxByHand(t *testing.T) {
	r := patched(t)
	near(t, "room", lineNamed(t, r, "lift.room").Limit, 83.5, 1e-9)
	near(t, "rest", lineNamed(t, r, "board.held").Value, 6, 1e-9)
	pressed := lineNamed(t, r, "board.pressed")
	near(t, "lifts", pressed.Value+pressed.AsDrawn(), 0.412*0.412*0.004*600*9.80665*206/346, 1e-9)
	near(t, "presses", lineNamed(t, r, "board.pressed").Value, 0.5+0.1*0.3, 1e-9)
	if c := lineNamed(t, patched(t, Setting{Key: "walls.left", Value: `"220 mm"`}), "board.held"); c.Verdict != Warn || !strings.Contains(c.Why, "a gap of 14.0 mm") {
		t.Errorf("on two walls only: %s %s", c.Verdict, c.Why)
	}
	if c := lineNamed(t, patched(t, Setting{Key: "board.rim", Value: `"0 mm"`}, Setting{Key: "board.held", Value: `"ledge"`}), "board.held"); c.Verdict != Pass {
		t.Errorf("on a ledge: %s %s", c.Verdict, c.Why)
	}
}

// By hand: 160 mm of field, 12 of border and no rim end short of slots 40 mm beyond the
// field, where half a queen's base and its errors go out to more than 208 mm, and of a
// trapdoor there; 100 mm of rim reach both.
func TestSheetUnderWhatIsTakenOff(t *testing.T) {
	tray := []Setting{{Key: "removal.mode", Value: `"tray"`}, {Key: "removal.slots", Value: "16"}, {Key: "removal.gap", Value: `"40 mm"`}}
	chute := []Setting{{Key: "removal.mode", Value: `"chute"`}, {Key: "removal.chute", Value: `["200 mm", "0 mm"]`}}
	for _, away := range [][]Setting{tray, chute} {
		for rim, want := range map[string]Verdict{`"0 mm"`: Fail, `"100 mm"`: Pass} {
			r := patched(t, append(slices.Clone(away), Setting{Key: "board.rim", Value: rim}, Setting{Key: "board.held", Value: `"ledge"`})...)
			if c := lineNamed(t, r, "removal.sheet"); c.Verdict != want || want == Fail && !(c.Value == 172 && c.Limit > 208 && c.Limit < 212) {
				t.Errorf("%s with a rim of %s: %s, %g against %g: %s", r.Removal.Mode, rim, c.Verdict, c.Value, c.Limit, c.Why)
			}
		}
	}
}

// A machine that plays the side without magnets is told so, and by how its file says it.
func TestMachineWithoutMagnetsInItsPieces(t *testing.T) {
	for carried, want := range map[string]Verdict{"white": Fail, "black": Pass, "both": Pass} {
		c := lineNamed(t, patched(t, Setting{Key: "pieces.carried", Value: `"` + carried + `"`}), "play.carried")
		if c.Verdict != want || want == Fail && !strings.Contains(c.Advice, `"both"`) {
			t.Errorf("carried %s: %s %s", carried, c.Verdict, c.Advice)
		}
	}
}

// The pull of steel is that of the mirror image: as far behind the steel's face as the
// magnet is before it, so that the faces are 2 × 6 mm apart.
func TestSteelPullsAsTheMirrorImage(t *testing.T) {
	r := patched(t, Setting{Key: "lift.steel", Value: `"6 mm"`}, Setting{Key: "lift.grade", Value: `"1.30 T"`}, Setting{Key: "pieces.magnet.grade", Value: `"1.30 T"`})
	m := magnet.Cylinder{Diameter: unit.MM(8), Thickness: unit.MM(4), Br: 1.3}
	p, err := magnet.Force(m, m, unit.MM(12), 0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "pull on steel", lineNamed(t, r, "lift.steel").Value, p.Axial, 1e-9)
}

// A coarse axis with much play leaves less of the lanes and of the middle: 0.5 mm of the
// carriage, a quarter of 1.45 mm and half of 0.223 mm by Pythagoras.
func TestPlayAndCountsEnterTheLanes(t *testing.T) {
	fine, coarse := patched(t), patched(t, Setting{Key: "axis.x.backlash", Value: `"1.45 mm"`}, Setting{Key: "axis.x.motor.counts", Value: "225"})
	step := math.Pi * 16 / 225
	want := math.Sqrt(0.25 + 0.3625*0.3625 + step*step/4)
	near(t, "error of place", mm(newStudy(coarse, nil).placement()), want, 1e-9)
	for _, id := range []string{"lanes.foot", "drag.settle", "neighbours.raised", "neighbours.feet"} {
		more := lineNamed(t, coarse, id).Value - lineNamed(t, fine, id).Value
		near(t, id, more, want-mm(newStudy(fine, nil).placement()), 1e-6)
	}
}
