// SPDX-License-Identifier: Apache-2.0

package measured

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

func some() *File {
	return &File{Machine: Twin(3), Cautions: &Done{When: "2026-01-02T03:04:05Z", Note: "read"},
		Lens: &Lens{When: "2026-01-02T03:04:05Z"}, // the maker went on without it
		Axes: &Axes{When: "2026-01-02T03:04:05Z", Scale: [2]float64{1.012, 0.988}, Skew: unit.Degrees(0.5), Centre: [2]unit.Length{unit.MM(170), unit.MM(166)},
			Backlash: [2]unit.Length{unit.MM(0.75), unit.MM(0.5)}, Lag: unit.MM(1.25)},
		Speed:  &Speed{When: "2026-01-02T03:04:05Z", Kept: 0.125},
		Places: []Place{{At: [2]unit.Length{unit.MM(20), unit.MM(-60)}, Off: [2]unit.Length{unit.MM(0.25), 0}, Outlier: true}}}
}

// What is kept is read back as it was, beside the rig; nothing else is left there.
func TestSaveAndLoad(t *testing.T) {
	dir := t.TempDir()
	at := filepath.Join(dir, "rig.toml")
	if f, err := Load(at); err != nil || !reflect.DeepEqual(f, &File{}) {
		t.Fatalf("a rig of which nothing was measured: %+v, %v", f, err)
	}
	if err := some().Save(at); err != nil {
		t.Fatal(err)
	}
	got, err := Load(at)
	if err != nil {
		t.Fatal(err)
	}
	text, again := some(), t.TempDir()
	if err := got.Save(filepath.Join(again, "rig.toml")); err != nil {
		t.Fatal(err)
	}
	a, _ := os.ReadFile(Beside(at))
	b, _ := os.ReadFile(filepath.Join(again, Name))
	if string(a) != string(b) || got.Axes.Scale != text.Axes.Scale || len(got.Places) != 1 || !got.Places[0].Outlier || got.Lead != nil {
		t.Errorf("read back differs:\n%s\n%s", a, b)
	}
	if all, _ := os.ReadDir(dir); len(all) != 1 {
		t.Errorf("%d files lie there", len(all))
	}
}

// A file that somebody spoilt is refused with the line, what is allowed, and what to do.
func TestSpoiltFiles(t *testing.T) {
	for text, want := range map[string]string{
		"machine = 3":                         "takes text in quotes",
		"[axes]\nscale = [1.0, 9.0]":          "must be 0.5 to 2",
		"[axes]\nskew = 3":                    "axes.skew",
		"[axes]\nskew = \"40 deg\"":           "must be -10 deg to 10 deg",
		"[axes]\nstretch = 1":                 "unknown key axes.stretch",
		"[speed]\nkept = \"fast\"":            "speed.kept",
		"[[place]]\nat = [\"1 mm\"]":          "takes 2 values",
		"[camera]\nheight = \"5 mm\"\nk1 = 0": "must be 100 mm to 3000 mm",
		"[lens]\ncorrelation = [0.5]":         "takes 28 values",
		"[lens]\ncorrelation = [-1.5" + strings.Repeat(", 0.0", 27) + "]": "must be -1 to 1",
	} {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, Name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		_, err := Load(filepath.Join(dir, "rig.toml"))
		if err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), "run `boardhand bringup` again") {
			t.Errorf("%q: %v; want %q", text, err, want)
		}
	}
}

// Only the machine at which it was measured takes it, and the rig's own numbers stay.
func TestApply(t *testing.T) {
	r := rig.Default()
	if text := (&File{}).Apply(r, Twin(3)); text != "" || r.Built != nil {
		t.Errorf("nothing was measured: %q", text)
	}
	if text := some().Apply(r, Twin(4)); !strings.Contains(text, "another machine (twin, seed 3; this is twin, seed 4)") || r.Built != nil {
		t.Errorf("another machine: %q", text)
	}
	if text := some().Apply(r, Twin(3)); !strings.Contains(text, "2026-01-02") || r.Built == nil || r.Built.Backlash[0] != 0.75e-3 {
		t.Errorf("this machine: %q, %+v", text, r.Built)
	}
	if r.Axis.X.Backlash != rig.Default().Axis.X.Backlash || r.MachineFromBoard() != rig.Default().MachineFromBoard() {
		t.Error("the rig's own numbers were changed")
	}
}

// Every step can be forgotten by the name that it has in the file.
func TestForget(t *testing.T) {
	f := some()
	for _, name := range []string{"cautions", "axes", "speed"} {
		if !f.Forget(name) {
			t.Errorf("%s is not known", name)
		}
	}
	if f.Cautions != nil || f.Axes != nil || f.Places != nil || f.Speed != nil || f.Forget("gear") {
		t.Errorf("%+v", f)
	}
}

// The machine as built has what was measured: backlash, origin and reach; not measured is
// an error that says what to do.
func TestAsBuilt(t *testing.T) {
	r := rig.Default()
	r.Path = "mine/rig.toml"
	if _, err := (&File{}).AsBuilt(r); err == nil || !strings.Contains(err.Error(), "run `boardhand bringup mine/rig.toml` first") {
		t.Errorf("nothing measured: %v", err)
	}
	f := some()
	f.Speed.Lost = 0.15
	f.Speed.Kept = 0.1
	changed, err := f.AsBuilt(r)
	if err != nil || len(changed) != 6 || r.Axis.X.Backlash != unit.MM(0.75) || r.Axis.Y.Speed != 0.1 {
		t.Errorf("%v, %v, %+v", changed, err, r.Axis)
	}
	f.Axes.RMS, f.Axes.CentreSigma = unit.MM(0.1), [2]unit.Length{unit.MM(0.05), unit.MM(0.02)}
	again := rig.Default()
	if _, err := f.AsBuilt(again); err != nil || again.Tolerance.Placement.Or(0) != unit.MM(0.2) || again.Tolerance.Field.Or(0) != unit.MM(0.1) {
		t.Errorf("tolerances: %v, %+v", err, again.Tolerance)
	}
	// By hand: 170 mm truly are 170/1.012 mm counted, less what the lean of y takes.
	if x := r.Axis.X.Origin.MM(); x < 166 || x > 168 {
		t.Errorf("the origin of x is at %.2f mm", x)
	}
	in := r.Built.Inside
	if w := in.Max.X - in.Min.X; w < 0.33 || w > 0.34 {
		t.Errorf("x reaches over %.1f mm", w*1e3)
	}
	b := in.Min
	for _, side := range []float64{-1, 1} {
		m := r.Built.MachineFromBoard.Apply(b)
		if v := m.X + side*r.Built.Backlash[0]/2; v < -1e-9 {
			t.Errorf("the corner of the reach is at %.3f mm of x", v*1e3)
		}
	}
}
