// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"boardhand/internal/rig"
)

// Where the rig names places, they are judged; the distances are worked out by hand here.
// The fixed rig: walls 200 mm from the middle, 96 mm high; 336 mm of travel, 0.4 mm of
// backlash, a carriage of 24 mm to all sides and 60 mm high: its ways end 168 − 0.2 + 24 =
// 191.8 mm from the middle, between 15.5 and 75.5 mm over the floor.
func TestPlacesThatAreGivenAreJudged(t *testing.T) {
	long := Setting{Key: "axis.y.rails.length", Value: `"390 mm"`}
	for _, c := range []struct {
		what  string
		set   []Setting
		id    string
		fails Verdict
		value float64
		says  string
	}{
		{"nothing given", nil, "rails.length", Pass, 0, "does not say how long"},
		{"nothing given", nil, "rails.room", Pass, 0, "the sheets assume places"},
		{"nothing given, a large motor", []Setting{{Key: "axis.y.motor.stall_torque", Value: `"0.5 N·m"`}}, "rails.room", Pass, 0, "y motor lacks 17.8 mm to the back wall"}, // 1 + 25 + 191.8 − 200
		{"a guide that does", []Setting{long}, "rails.length", Pass, 390, "takes 384.0 mm"},                                                                                  // 336 + 2·24
		{"a guide shorter than the travel", []Setting{{Key: "axis.x.rails.length", Value: `"330 mm"`}, long}, "rails.length", Fail, 330, "set axis.x.rails.length to 384 mm"},
		{"a rack shorter than the travel", []Setting{{Key: "axis.x.rails.drive_length", Value: `"300 mm"`}, long}, "rails.length", Fail, 96 * math.Pi, "axis.x.rails.drive_length to 349 mm"}, // 107 + 4 teeth
		{"guides under the carriage", []Setting{long, {Key: "axis.y.rails.at", Value: `["-190 mm", "190 mm"]`}, {Key: "axis.y.rails.height", Value: `"8 mm"`}, {Key: "axis.y.rails.diameter", Value: `"6 mm"`}},
			"rails.room", Pass, 4.5, "to the carriage"}, // 15.5 − 8 − 3
		{"a guide in the carriage's way", []Setting{long, {Key: "axis.y.rails.at", Value: `["-190 mm", "190 mm"]`}, {Key: "axis.y.rails.height", Value: `"30 mm"`}, {Key: "axis.y.rails.diameter", Value: `"6 mm"`}},
			"rails.room", Fail, -4.8, "to the carriage"}, // 190 − 3 − 191.8
		{"a motor in the wall", []Setting{{Key: "axis.y.motor.at", Value: `["0 mm", "40 mm", "12 mm"]`}, {Key: "axis.y.motor.body", Value: `["40 mm", "20 mm", "20 mm"]`}},
			"rails.room", Fail, -17.8, "y motor, -17.8 mm to the back wall"}, // it rides along: 200 − 50 − 167.8
		{"nothing but a motor outside", []Setting{{Key: "axis.y.drive", Value: `"belt"`}, {Key: "axis.y.pitch", Value: `"2 mm"`}, {Key: "axis.y.motor.at", Value: `["0 mm", "230 mm", "40 mm"]`}}, "rails.room", Warn, 0, "y motor stands outside"},
		{"a motor outside", []Setting{{Key: "axis.y.drive", Value: `"belt"`}, {Key: "axis.y.pitch", Value: `"2 mm"`}, {Key: "axis.y.motor.at", Value: `["0 mm", "230 mm", "40 mm"]`}, {Key: "axis.x.rails.at", Value: `["-12 mm", "12 mm"]`},
			{Key: "axis.x.rails.length", Value: `"390 mm"`}, {Key: "axis.x.rails.height", Value: `"45 mm"`}}, "rails.room", Warn, 5, "outside the walls"}, // the guides: 200 − 195
	} {
		var got *Check
		for _, k := range Run(patched(t, c.set...), nil) {
			if k.ID == c.id {
				got = &k
			}
		}
		switch {
		case got == nil:
			t.Errorf("%s: there is no line %s", c.what, c.id)
		case got.Verdict != c.fails || math.Abs(got.Value-c.value) > 1e-6 || !strings.Contains(got.Why+got.Change, c.says):
			t.Errorf("%s: %s %s %.3f %s; %s, want %s %.3f and %q", c.what, got.ID, got.Verdict, got.Value, got.Why, got.Change, c.fails, c.value, c.says)
		case got.Verdict != Pass && got.Change == "":
			t.Errorf("%s: nothing is said to change", c.what)
		}
	}
}

// under is the fixed rig with lines at the top of a table.
func under(table, lines string) string {
	head := regexp.MustCompile(`(?m)^\[` + regexp.QuoteMeta(table) + `\].*$`)
	return head.ReplaceAllStringFunc(fixedText, func(h string) string { return h + "\n" + lines })
}

// What cannot be is refused with its key.
func TestPlacesThatCannotBeAreRefused(t *testing.T) {
	for value, says := range map[string]string{
		`{ drive_at = ["-180 mm", "180 mm"] }`: "axis.y.rails.drive_at names 2 places for 1",
		`{ at = ["190 mm", "-190 mm"] }`:       "axis.y.rails.at must name the left or front guide first",
		`{ at = ["190 mm"] }`:                  "axis.y.rails.at takes 2 values; got 1",
		`{ at = [10, 20] }`:                    "axis.y.rails.at: ",
		`{ lenght = "300 mm" }`:                "unknown key axis.y.rails.lenght; known here: length",
	} {
		if _, err := rig.Parse("rig.toml", []byte(under("axis.y", "rails = "+value)), rig.Machine); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("rails = %s: %v, want %q", value, err, says)
		}
	}
	text := under("axis.y.motor", "at = [\"0 mm\", \"40 mm\", \"8 mm\"]\nbody = [\"20 mm\", \"20 mm\", \"20 mm\"]")
	if _, err := rig.Parse("rig.toml", []byte(text), rig.Machine); err == nil || !strings.Contains(err.Error(), fmt.Sprintf("axis.y.motor.at is %v over the floor", "8 mm")) {
		t.Errorf("a motor in the floor: %v", err)
	}
}
