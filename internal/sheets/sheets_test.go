// SPDX-License-Identifier: Apache-2.0

package sheets

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"boardhand/internal/assess"
	"boardhand/internal/draw"
	"boardhand/internal/materials"
	"boardhand/internal/rig"
)

// machines are rigs of all removals and sizes.
func machines(t *testing.T) map[string]*rig.Rig {
	t.Helper()
	out := map[string]*rig.Rig{}
	for name, set := range map[string]map[string]string{
		"default": nil,
		"tray": {"removal.mode": `"tray"`, "removal.slots": "16", "removal.gap": `"40 mm"`, "board.border": `"60 mm"`,
			"walls.left": `"260 mm"`, "walls.right": `"260 mm"`, "axis.x.travel": `"440 mm"`},
		"chute":       {"removal.mode": `"chute"`, "removal.chute": `["200 mm", "0 mm"]`, "board.border": `"60 mm"`, "walls.right": `"260 mm"`},
		"travel":      {"board.square": `"25 mm"`, "walls.left": `"150 mm"`, "walls.right": `"150 mm"`, "walls.front": `"150 mm"`, "walls.back": `"150 mm"`},
		"club":        {"board.square": `"50 mm"`, "camera.height": `"700 mm"`, "walls.left": `"320 mm"`, "walls.front": `"300 mm"`},
		"large motor": {"axis.y.motor.stall_torque": `"0.5 N·m"`},
		"low":         {"walls.height": `"50 mm"`},
		"motor outside": {"axis.y.drive": `"belt"`, "axis.y.pitch": `"2 mm"`, "axis.y.motor.at": `["60 mm", "240 mm", "40 mm"]`, "axis.y.motor.body": `["42 mm", "48 mm", "42 mm"]`,
			"axis.x.drive": `"screw"`, "axis.x.lead": `"8 mm"`, "axis.x.motor.at": `["-235 mm", "-9 mm", "120 mm"]`, "axis.x.motor.body": `["48 mm", "42 mm", "42 mm"]`, "axis.x.rows": "2", "axis.y.rows": "4"},
	} {
		text := rig.DefaultText
		for key, value := range set {
			var err error
			if text, err = rig.Patch(text, key, value); err != nil {
				t.Fatal(name, err)
			}
		}
		r, err := rig.Parse(name+".toml", []byte(text), rig.Machine)
		if err != nil {
			t.Fatal(name, err)
		}
		out[name] = r
	}
	for _, name := range []string{"pocket", "club"} {
		r, err := rig.Load("../../examples/"+name+"/rig.toml", rig.Machine)
		if err != nil {
			t.Fatal(err)
		}
		out["example "+name] = r
	}
	return out
}

func orderOf(r *rig.Rig, p Paper) Order {
	return Order{Rig: r, Report: assess.ReportOn(r), Parts: materials.Of(r, nil), Paper: p, Date: "2026-01-31", Maker: "boardhand test"}
}

// All that is drawn stays 5 mm within the paper, no word lies over another, and capitals are at
// least 2.5 mm high.
func TestEverySheetIsReadable(t *testing.T) {
	for name, r := range machines(t) {
		for _, p := range Papers {
			all, err := Draw(orderOf(r, p))
			if err != nil {
				t.Fatal(name, p.Name, err)
			}
			for _, s := range all {
				for k, page := range s.Pages {
					checkPage(t, strings.Join([]string{name, p.Name, s.Name, strconv.Itoa(k + 1)}, " "), page)
				}
			}
		}
	}
}

func checkPage(t *testing.T, name string, page *draw.Drawing) {
	t.Helper()
	if b := page.Bounds(); !b.Within(draw.Rect{X0: 5, Y0: 5, X1: page.W - 5, Y1: page.H - 5}) {
		t.Errorf("%s: drawn on %.1f of %g × %g mm", name, b, page.W, page.H)
	}
	words := page.Words()
	boxes := make([]draw.Rect, len(words))
	for i, a := range words {
		boxes[i] = a.Box()
		if a.Size < letter {
			t.Errorf("%s: %q is written in %.2f mm", name, a.Text, a.Size)
		}
		for k, b := range words[:i] {
			if boxes[i].Overlaps(boxes[k]) {
				t.Errorf("%s: %q lies over %q", name, a.Text, b.Text)
			}
		}
	}
}

// A rig that fails says so on every page, and on the page of previews; one that passes nowhere.
func TestFailingRigSaysSoOnEveryPage(t *testing.T) {
	r := machines(t)["default"]
	for _, fails := range []bool{false, true} {
		o := orderOf(r, Papers[0])
		if fails {
			o.Report.Checks = append([]assess.Check{{ID: "lanes.base", Verdict: assess.Fail, Why: "Two bases touch."}}, o.Report.Checks...)
		}
		all, err := Draw(o)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range all {
			for k, page := range s.Pages {
				said := false
				for _, w := range page.Words() {
					said = said || strings.HasPrefix(w.Text, "Not to be built: the rig fails lanes.base")
				}
				if said != fails {
					t.Errorf("sheet %s, page %d: says so: %v, want %v", s.Name, k+1, said, fails)
				}
			}
		}
		files, err := Files(o, all)
		if err != nil {
			t.Fatal(err)
		}
		if index := string(files[len(files)-1].Data); strings.Contains(index, "Not to be built") != fails {
			t.Errorf("the page of previews, failing %v, is wrong", fails)
		}
	}
}

// Each dimension that is written beside a dimension line is what the line measures at the
// sheet's scale.
func TestDimensionsAreWhatTheyMeasure(t *testing.T) {
	v := &view{Drawing: &draw.Drawing{}, factor: 0.25, in: extent{-100, -100, 100, 100}}
	v.across(below, -40, 60, 0, "100")
	long := 0.0
	for _, l := range lines(v.Drawing) {
		if l[1] == l[3] {
			long = max(long, math.Abs(l[2]-l[0]))
		}
	}
	if math.Abs(long-25) > 1e-9 {
		t.Errorf("100 mm at 1:4 are drawn %.3f mm long, want 25", long)
	}
}

func TestUnknownSheetsAndPaper(t *testing.T) {
	o := orderOf(machines(t)["default"], Papers[0])
	o.Only = []string{"bord"}
	if _, err := Draw(o); err == nil || !strings.Contains(err.Error(), "board, underside, plan") {
		t.Errorf("an unknown sheet: %v", err)
	}
	if _, err := PaperNamed("a5"); err == nil || !strings.Contains(err.Error(), "a4, a3, letter") {
		t.Errorf("an unknown paper: %v", err)
	}
	o.Only = []string{"lift", "plan"}
	all, err := Draw(o)
	if err != nil || len(all) != 2 || all[0].Name != "plan" {
		t.Errorf("two sheets: %v, %v", all, err)
	}
}

// However long a rig's path or a version is, the title block holds it.
func TestTitleBlockHoldsLongNames(t *testing.T) {
	o := orderOf(machines(t)["default"], Papers[0])
	o.Maker = "boardhand v0.0.0-20261231235959-0123456789ab+dirty, and what is said of it besides"
	o.Rig.Path = strings.Repeat("a-long-folder/", 12) + "rig.toml"
	o.Only = []string{"plan"}
	all, err := Draw(o)
	if err != nil {
		t.Fatal(err)
	}
	checkPage(t, "long names", all[0].Pages[0])
	for _, w := range all[0].Pages[0].Words() {
		if strings.HasPrefix(w.Text, "boardhand v0") && w.Box().X1 > 200-1 || strings.HasSuffix(w.Text, "rig.toml") && w.Box().X1 > 20+96 {
			t.Errorf("%q leaves its cell", w.Text)
		}
	}
}

func TestWrittenDimensions(t *testing.T) {
	for v, want := range map[float64]string{40: "40", 0.5: "0.5", 167.84: "167.8", -0.01: "0", 12.96: "13"} {
		if got := written(v); got != want {
			t.Errorf("%g is written %q, want %q", v, got, want)
		}
	}
}

// lines plays a drawing and lists its straight stretches.
func lines(d *draw.Drawing) (out [][4]float64) {
	r := &recorder{}
	d.Play(r)
	return r.lines
}

// recorder is a pen that keeps what it drew.
type recorder struct {
	lines   [][4]float64
	circles [][3]float64
	words   []draw.Word
}

func (r *recorder) Line(x, y []float64, _ draw.Ink) {
	for k := 1; k < len(x); k++ {
		r.lines = append(r.lines, [4]float64{x[k-1], y[k-1], x[k], y[k]})
	}
}
func (r *recorder) Circle(x, y, radius float64, _ draw.Ink) {
	r.circles = append(r.circles, [3]float64{x, y, radius})
}
func (r *recorder) Tone(_, _ []float64, _ draw.Tint) {}
func (r *recorder) Write(w draw.Word)                { r.words = append(r.words, w) }

// On a card as large as the paper the bases take a page for the layers and one for the covers,
// and every disc lies whole on its page.
func TestBasesTakeFewPages(t *testing.T) {
	o := orderOf(machines(t)["default"], Papers[0])
	o.Only = []string{"bases"}
	all, err := Draw(o)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(all[0].Pages); n != 2 {
		t.Errorf("the bases take %d pages of A4, want one of layers and one of covers", n)
	}
	want, got := 0, 0
	for _, r := range o.Parts.Feet.Rings {
		want += r.Discs()
		if r.Pocket > 0 {
			want += r.Discs() + r.Count + r.Spare // pockets, and covers
		}
	}
	for _, page := range all[0].Pages {
		r := &recorder{}
		page.Play(r)
		got += len(r.circles)
	}
	if got != want {
		t.Errorf("%d circles are drawn, want %d", got, want)
	}
}

// A board whose sheet reaches over the walls is screwed to blocks between them: each hole lies
// in a corner or along the front or back wall, clear of the carriage, mirrored as it is seen
// from below, and as many as screws are on the list.
func TestUndersideIsDrilledWhereNothingMoves(t *testing.T) {
	text := rig.DefaultText
	for key, value := range map[string]string{"board.border": `"66 mm"`, "walls.left": `"220 mm"`, "walls.right": `"210 mm"`, "walls.front": `"212 mm"`, "walls.back": `"212 mm"`} {
		var err error
		if text, err = rig.Patch(text, key, value); err != nil {
			t.Fatal(err)
		}
	}
	r, err := rig.Parse("blocks.toml", []byte(text), rig.Machine)
	if err != nil {
		t.Fatal(err)
	}
	o := orderOf(r, Papers[1])
	o.Only = []string{"underside"}
	all, err := Draw(o)
	if err != nil {
		t.Fatal(err)
	}
	p := &recorder{}
	all[0].Whole.Play(p)
	screws := 0
	for _, l := range o.Parts.In(materials.InFasteners) {
		if l.Name == "countersunk wood screw 3 × 16" {
			screws = l.Need
		}
	}
	if len(p.circles) != 8 || screws != 8 {
		t.Fatalf("%d holes and %d screws, want 8 of each: 418 mm between the outer ones, at most 200 apart, front and back", len(p.circles), screws)
	}
	centre := all[0].Whole.W / 2
	left, right := math.Inf(1), math.Inf(-1)
	for _, c := range p.circles {
		left, right = min(left, c[0]-centre), max(right, c[0]-centre)
		if math.Abs(math.Abs(c[1]-centre)-206) > 1e-9 { // 212 less half a block; the carriage gets to 168 + 24
			t.Errorf("a hole %.1f mm from the middle, want 206", c[1]-centre)
		}
	}
	if math.Abs(left+204) > 1e-9 || math.Abs(right-214) > 1e-9 { // from below the left wall is right
		t.Errorf("holes from %.1f to %.1f mm, want -204 to 214", left, right)
	}
}
