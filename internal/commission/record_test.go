// SPDX-License-Identifier: Apache-2.0

package commission

import (
	"bytes"
	"strings"
	"testing"

	"boardhand/internal/measured"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

const when = "2026-01-02T03:04:05Z"

// asDrawn is a machine that came out as planned.
func asDrawn(r *rig.Rig) *measured.File {
	a := &measured.Axes{When: when, Scale: [2]float64{1.001, 0.999}, Skew: unit.Degrees(0.1), Centre: [2]unit.Length{r.Axis.X.Origin, r.Axis.Y.Origin + unit.MM(0.4)},
		Backlash: [2]unit.Length{r.Axis.X.Backlash, unit.MM(0.1)}, Lag: unit.MM(1.3), SkewSigma: unit.Degrees(0.01)}
	return &measured.File{Machine: "this one", Cautions: &measured.Done{When: when, Note: "read"}, Axes: a,
		Places: []measured.Place{{At: [2]unit.Length{unit.MM(20), unit.MM(60)}, Off: [2]unit.Length{unit.MM(0.1), 0}}}}
}

// A machine as planned is within; less backlash than planned is no fault.
func TestAsPlanned(t *testing.T) {
	r := rig.Default()
	for _, l := range Lines(r, asDrawn(r)) {
		if l.IsOff() {
			t.Errorf("%s: %g, planned %g: off", l.What, l.Measured, l.Planned)
		}
	}
}

// What is off is named with its cause and with what would be right.
func TestCausesAreNamed(t *testing.T) {
	r := rig.Default()
	f := asDrawn(r)
	f.Axes.Scale[0], f.Axes.Skew, f.Axes.Centre[1], f.Axes.Backlash[1] = 1.012, unit.Degrees(0.7), r.Axis.Y.Origin-unit.MM(3), unit.MM(0.9)
	f.Speed = &measured.Speed{When: when, Kept: 0.06, Lost: 0.09}
	var text strings.Builder
	for _, l := range Lines(r, f) {
		if l.IsOff() {
			text.WriteString(l.What + ": " + l.Cause + "\n")
		}
	}
	for _, want := range []string{
		"x axis: way over counted way: module or teeth of the pinion, a printed rack that shrank, or counts a turn: 355.73 counts a turn would be right for axis.x.motor",
		"axes out of square: the frame is out of square: of two diagonals one is 4.1 mm longer; loosen it, set the y axis back to the left at its far end",
		`field's centre on y: switch or sheet sit elsewhere: write origin = "165.0 mm" into [axis.y]`,
		"backlash of y: the pinion stands off its rack",
		"fastest carry that kept the piece: the magnets pull less",
	} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("%q is missing in\n%s", want, text.String())
		}
	}
	if n := strings.Count(text.String(), "\n"); n != 5 {
		t.Errorf("%d lines are off:\n%s", n, text.String())
	}
}

// The record says the same on the page and is a whole PDF.
func TestRecord(t *testing.T) {
	r := rig.Default()
	f := asDrawn(r)
	f.Axes.Skew, f.Places[0].Outlier = unit.Degrees(0.7), true
	var page, sheet bytes.Buffer
	d := Record(r, f)
	if err := d.HTML(&page); err != nil {
		t.Fatal(err)
	}
	if err := d.PDF(&sheet); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Machine: this one.", "one is off", `<td class="off">off</td><td>axes out of square</td>`, "Likely: the frame", "outlier, left out", "Cautions, 2026-01-02: read."} {
		if !strings.Contains(page.String(), want) {
			t.Errorf("%q is missing", want)
		}
	}
	if !bytes.HasPrefix(sheet.Bytes(), []byte("%PDF-")) || !bytes.Contains(sheet.Bytes(), []byte("%%EOF")) {
		t.Error("the PDF is not whole")
	}
}
