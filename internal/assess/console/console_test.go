// SPDX-License-Identifier: Apache-2.0

package console

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"boardhand/internal/assess"
	"boardhand/internal/assess/line"
	"boardhand/internal/assess/whatif"
	"boardhand/internal/rig"
)

func set(t *testing.T, settings ...rig.Setting) *rig.Rig {
	t.Helper()
	r, err := rig.Set("rig.toml", []byte(rig.DefaultText), settings, rig.Machine)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// The summary names what fails before anything else; then come all lines, the worst first.
func TestReport(t *testing.T) {
	r := set(t, rig.Setting{Key: "lift.drop", Value: "6 mm"}, rig.Setting{Key: "accept.caution.flux", Value: "all capped"})
	rep := assess.ReportOn(r)
	text := Page{}.Report(rep)
	lines := strings.Split(text, "\n")
	if !strings.HasPrefix(lines[0], fmt.Sprintf("1 fails: neighbours.lowered; %d pass, 1 caution seen to.", len(rep.Checks)-2)) || !strings.HasPrefix(lines[2], "fail  neighbours.lowered") {
		t.Errorf("the worst line comes first:\n%s", text)
	}
	for _, c := range rep.Checks {
		if !strings.Contains(text, c.ID) || !strings.Contains(text, c.Why) {
			t.Errorf("%s is missing", c.ID)
		}
	}
	for _, c := range rep.Cautions {
		if !strings.Contains(text, c.Text) {
			t.Errorf("caution %s is missing", c.ID)
		}
	}
	if !strings.Contains(text, "accepted: all capped") {
		t.Error("the reason is missing")
	}
}

// In a narrow terminal no line is longer than it, and no word is lost; colours only where asked.
func TestReportWraps(t *testing.T) {
	rep := assess.ReportOn(set(t, rig.Setting{Key: "lift.drop", Value: "6 mm"}))
	wide, narrow := Page{}.Report(rep), Page{Width: 64}.Report(rep)
	if strings.Join(strings.Fields(wide), " ") != strings.Join(strings.Fields(narrow), " ") {
		t.Error("words differ")
	}
	for _, l := range strings.Split(narrow, "\n") {
		if utf8.RuneCountInString(l) > 64 {
			t.Errorf("%d columns: %s", utf8.RuneCountInString(l), l)
		}
	}
	if strings.Contains(wide, "\x1b") {
		t.Error("colour in a file")
	}
	coloured := Page{Colours: true}.Report(rep)
	if !strings.Contains(coloured, red+"fail"+plain) || strings.Count(coloured, plain) < len(rep.Checks) {
		t.Errorf("no colour:\n%s", coloured)
	}
}

// Two rigs: what the files say otherwise, what turns, and what there is to do.
func TestComparison(t *testing.T) {
	was, is := set(t), set(t, rig.Setting{Key: "lift.drop", Value: "6 mm"})
	c := whatif.Compare(was, is)
	text, all := Page{}.Comparison(c), fmt.Sprint(len(c.A.Checks)-1) // one is a caution
	asked, missed := line.Figure(c.Lines[0].A.Limit), line.Figure(c.Lines[0].B.Limit)
	for _, want := range []string{"before: " + all + " pass", "after: 1 fails: neighbours.lowered", "lift.drop  20 mm  → 6 mm", "neighbours.lowered  pass 20 ≥ " + asked + " ", "→ fail 6 ≥ " + missed + " ", "change: set lift.drop"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing:\n%s", want, text)
		}
	}
	if text := (Page{}).Comparison(whatif.Compare(was, set(t))); !strings.Contains(text, "the two say the same") {
		t.Error(text)
	}
}

// In a narrow terminal the last column of a sweep is broken below itself, and no word is lost.
func TestSweepWraps(t *testing.T) {
	points := []whatif.Point{{Value: "20 mm", Refused: "board.square must be 25 mm to 80 mm; got 20 mm, which no piece of a usual size has room in"}}
	wide, narrow := Page{}.Sweep("board.square", points), Page{Width: 70}.Sweep("board.square", points)
	if strings.Join(strings.Fields(wide), " ") != strings.Join(strings.Fields(narrow), " ") {
		t.Errorf("words differ:\n%s%s", wide, narrow)
	}
	lines := strings.Split(strings.TrimSpace(narrow), "\n")
	if len(lines) < 3 || strings.Index(lines[1], "board.square must") != len(lines[2])-len(strings.TrimLeft(lines[2], " ")) {
		t.Errorf("not below itself:\n%s", narrow)
	}
	for _, l := range lines {
		if utf8.RuneCountInString(l) > 70 {
			t.Errorf("%d columns: %s", utf8.RuneCountInString(l), l)
		}
	}
}
