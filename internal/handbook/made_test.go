// SPDX-License-Identifier: Apache-2.0

package handbook_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/assess"
	"boardhand/internal/chess"
	"boardhand/internal/drive"
	"boardhand/internal/frame"
	"boardhand/internal/magnet"
	"boardhand/internal/optics"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// makers write the tables of the manual.
var makers = map[string]func(*testing.T) string{"published": published, "lines": lines}

// row is a number that somebody published, and what the program makes of the same case.
type row struct {
	what, unit   string
	theirs, ours float64
	digits       int     // printed after the point
	within       float64 // by how much the two may differ: what the published rounding leaves open
	source       string
}

// published is the table of numbers that others computed or measured before.
func published(t *testing.T) string {
	var b strings.Builder
	b.WriteString("| what | published | here | source |\n| --- | ---: | ---: | --- |\n")
	for _, r := range slices.Concat(magnets(t), drives(t), pictures(t), counts(t)) {
		if !(math.Abs(r.ours-r.theirs) <= r.within) {
			t.Errorf("%s: %v, published %v ± %v (%s)", r.what, r.ours, r.theirs, r.within, r.source)
		}
		fmt.Fprintf(&b, "| %s | %.*f%s | %.*f%[4]s | %[7]s |\n", r.what, r.digits, r.theirs, r.unit, r.digits, r.ours, r.source)
	}
	return b.String()
}

func disc(d, l, br float64) magnet.Cylinder {
	return magnet.Cylinder{Diameter: unit.MM(d), Thickness: unit.MM(l), Br: unit.FluxDensity(br)}
}

func magnets(t *testing.T) []row {
	const source = "W. Robertson, B. Cazzolato, A. Zander, magcode, testcyl01.m"
	var out []row
	for _, c := range []struct {
		a, b      magnet.Cylinder
		gap, want float64
	}{{disc(40, 40, 1.3), disc(40, 40, 1.3), 10, 265.537}, {disc(40, 40, 1.3), disc(30, 30, 1.3), 15, 111.490}, {disc(40, 20, 1.3), disc(40, 10, 1.3), 35, 18.953}} {
		f, err := magnet.Force(c.a, c.b, unit.MM(c.gap), 0)
		what := fmt.Sprintf("attraction of discs %g×%g and %g×%g mm, 1.3 T, %g mm apart", c.a.Diameter.MM(), c.a.Thickness.MM(), c.b.Diameter.MM(), c.b.Thickness.MM(), c.gap)
		out = append(out, row{what, " N", c.want, must(t, f.Axial, err), 3, 0.0005, source})
	}
	return out
}

func drives(t *testing.T) []row {
	travel, err := drive.Rack(unit.MM(2), 20)
	out := []row{{"rack, module 2, 20 teeth: travel a turn", " mm", 125.66, must(t, travel.MM(), err), 2, 0.005, "gear geometry, ISO 53/54"}}
	steps, err := drive.CountsPerMetre(200*16, 20.0/32, unit.MM(8))
	out = append(out, row{"screw of lead 8 mm behind 32 to 20 teeth, 3200 steps a turn", " steps/mm", 250, must(t, steps/1e3, err), 0, 1e-9, "Grbl, doc/markdown/settings.md, $100; RepRap forum 677333"})
	motor := drive.DC{Stall: 0.325, Free: unit.RPM(600)}
	out = append(out, row{"motor of 0.325 N·m and 600 rpm: torque at half speed", " N·m", 0.163, float64(motor.TorqueAt(unit.RPM(300))), 3, 0.0006, "MIT, Understanding D.C. Motor Characteristics"})
	screw := drive.Screw{Mean: unit.MM(22.5), Lead: unit.MM(5), Friction: 0.09, Collar: unit.MM(45), Rub: 0.06}
	torque, err := screw.Raise(5000)
	out = append(out, row{"power screw, 25×5 mm, raising 5 kN", " N·m", 15.845, must(t, float64(torque), err), 3, 0.005, "a worked exercise after Shigley, Mechanical Engineering Design, ch. 8"})
	ramp, err := drive.Trapezoid(unit.MM(300), 0.150, 0.150)
	return append(out, row{"300 mm by the rule of thirds: 150 mm/s, 150 mm/s²", " s", 3, must(t, ramp.Duration(), err), 3, 1e-9, "industrialmonitordirect.com, Motion Profile Sizing"})
}

func pictures(t *testing.T) []row {
	tower, err := optics.Lean(146, 71.68, 2269.08)
	out := []row{{"lean of a tower of 146 m in an air photograph", " mm", 76.61 - 71.68, must(t, tower, err), 2, 0.005, "Hicks (ed.), Handbook of Civil Engineering Calculations, fig. 30"}}
	small, err := optics.Lean(50, 60.96, 1250)
	out = append(out, row{"lean of a tower of 50 m", " mm", 2.54, must(t, small, err), 2, 1e-9, "a surveying examination (askfilo.com)"})
	c, err := optics.Calibrate(sampleViews(t), optics.Free([2]int{640, 480}, 3, true, false))
	const source = "OpenCV 4.6.0, calibrateCamera on its own sample pictures left01 … left14"
	return append(out, row{"calibration by thirteen views: focal length", " px", 536.0742, must(t, c.Lens.Fx, err), 2, 2e-3, source},
		row{"the same: corners off by, rms", " px", 0.408774, c.RMS, 4, 2e-6, source})
}

// sampleViews are the corners that OpenCV finds in its sample pictures, 25 mm or any other unit apart.
func sampleViews(t *testing.T) (views [][]optics.Corner) {
	t.Helper()
	var file struct {
		Columns int
		Images  map[string][][2]float64
	}
	if err := json.Unmarshal([]byte(read(t, "../optics/testdata/opencv-left-corners.json")), &file); err != nil {
		t.Fatal(err)
	}
	for _, name := range slices.Sorted(maps.Keys(file.Images)) {
		var v []optics.Corner
		for i, p := range file.Images[name] {
			at := frame.Point[frame.Board]{X: float64(i % file.Columns), Y: float64(i / file.Columns)}
			v = append(v, optics.Corner{Board: at, Seen: frame.Spot[frame.Image]{X: p[0], Y: p[1]}})
		}
		views = append(views, v)
	}
	return views
}

func counts(t *testing.T) []row {
	var out []row
	for _, c := range []struct {
		name, fen string
		depth     int
		want      float64
	}{
		{"the start, 4 plies", "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1", 4, 197281},
		{"“Kiwipete”, 3 plies", "r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1", 3, 97862},
		{"an ending, 5 plies", "8/2p5/3p4/KP5r/1R3p1k/8/4P1P1/8 w - - 0 1", 5, 674624},
	} {
		p, err := chess.ParseFEN(c.fen)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, row{"legal games from " + c.name, "", c.want, float64(p.Perft(c.depth)), 0, 0, "Chess Programming Wiki, Perft Results"})
	}
	return out
}

// lines are the lines of assess: by what each is computed, and where that holds.
func lines(*testing.T) string {
	checks := assess.Run(rig.Default(), nil)
	slices.SortFunc(checks, func(a, b assess.Check) int { return strings.Compare(a.ID, b.ID) })
	var b strings.Builder
	b.WriteString("| line | what | by | holds for | source |\n| --- | --- | --- | --- | --- |\n")
	for _, c := range checks {
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s | %s |\n", c.ID, c.Title, cell(c.Formula), cell(c.Range), cell(c.Source))
	}
	return b.String()
}

// cell is a text that may stand in a table.
func cell(text string) string {
	return strings.NewReplacer("|", `\|`, "*", `\*`, "_", `\_`, "\n", " ").Replace(text)
}

func must(t *testing.T, v float64, err error) float64 {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return v
}
