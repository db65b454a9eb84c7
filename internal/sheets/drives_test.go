// SPDX-License-Identifier: Apache-2.0

package sheets

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// ofSheet draws one sheet of a machine, and gives it with what a pen draws of its first page.
func ofSheet(t *testing.T, machine, name string) (Sheet, *recorder) {
	t.Helper()
	o := orderOf(machines(t)[machine], Papers[0])
	o.Only = []string{name}
	all, err := Draw(o)
	if err != nil {
		t.Fatal(err)
	}
	p := &recorder{}
	all[0].Pages[0].Play(p)
	return all[0], p
}

func says(p *recorder, text string) bool {
	for _, w := range p.words {
		if strings.Contains(w.Text, text) {
			return true
		}
	}
	return false
}

// The places that the club table's file gives stand on its sheets of drives as dimensions, once,
// and a line as long as each says is drawn.
func TestPlacesAreMeasured(t *testing.T) {
	wants := map[string][]struct {
		text string
		long float64
	}{
		"drives": {{"guides 534", 534}, {"racks 520", 520}, {"guides 550", 550}, {"rack 471.2", 150 * math.Pi}, {"guides 500", 500}, {"rack 414.7", 132 * math.Pi},
			{"guides 30", 30}, {"rack 27", 27}, {"x motor 17", 17}, {"lift motor 17", 17}, {"y motor 41", 41}},
		"levels": {{"y guides 30", 30}, {"y rack 45", 45}, {"x guides 56", 56}, {"x rack 43", 43}, {"x motor 32", 32}, {"y motor 56", 56}, {"lift motor 37", 37}},
	}
	for name, dims := range wants {
		s, p := ofSheet(t, "example club", name)
		var ratio float64
		if _, err := fmt.Sscanf(s.Scale, "1:%g", &ratio); err != nil {
			t.Fatal(err)
		}
		for _, d := range dims {
			n, drawn := 0, false
			for _, w := range p.words {
				if w.Text == d.text {
					n++
				}
			}
			for _, l := range p.lines {
				long := math.Max(math.Abs(l[2]-l[0]), math.Abs(l[3]-l[1]))
				outside := long - d.long/ratio // where arrows come from outside, and the words stand beside
				drawn = drawn || math.Abs(outside) < 1e-6 || outside > 4*arrow-1e-6 && d.long/ratio < 3*arrow+30
			}
			if n != 1 || !drawn {
				t.Errorf("%s: %q stands there %d times, want once; a line of %.1f mm at 1:%g is drawn: %v", name, d.text, n, d.long, ratio, drawn)
			}
		}
	}
}

// What the rig does not say is called assumed on the sheets that show it, and what does not fit
// so lacks its room; a rig that says it all has neither.
func TestAssumedPlacesAreCalledSo(t *testing.T) {
	for _, name := range []string{"plan", "front", "side", "drives"} {
		for machine, assumed := range map[string]bool{"default": true, "example club": false, "example pocket": false} {
			_, p := ofSheet(t, machine, name)
			if says(p, "ssumed") != assumed {
				t.Errorf("%s of %s: it speaks of what is assumed: %v, want %v", name, machine, !assumed, assumed)
			}
			if says(p, "No room") {
				t.Errorf("%s of %s: it says that something lacks room", name, machine)
			}
		}
	}
}

// What does not fit where it is assumed is told with what it lacks: a large motor behind the
// carriage, 24 + 1 + 25 mm from the magnet that gets to 167.8 of the 200 mm to the wall.
func TestLackingRoomIsTold(t *testing.T) {
	for _, name := range []string{"drives", "levels"} {
		if _, p := ofSheet(t, "large motor", name); !says(p, "No room: y motor lacks 17.8 mm to the back wall") {
			t.Errorf("%s says nothing of the room that the y motor lacks", name)
		}
	}
}

// The same bodies are seen in all three views: the left guide of the club table's y axis, end on
// from the front, from the side and from above.
func TestViewsAgree(t *testing.T) {
	for name, want := range map[string]struct{ wide, high float64 }{"plan": {8, 500}, "side": {500, 8}} {
		s, p := ofSheet(t, "example club", name)
		var ratio float64
		if _, err := fmt.Sscanf(s.Scale, "1:%g", &ratio); err != nil {
			t.Fatal(err)
		}
		across, along := false, false
		for _, l := range p.lines {
			across = across || l[1] == l[3] && math.Abs(math.Abs(l[2]-l[0])*ratio-want.wide) < 1e-6
			along = along || l[0] == l[2] && math.Abs(math.Abs(l[3]-l[1])*ratio-want.high) < 1e-6
		}
		if !across || !along {
			t.Errorf("%s: no box of %g × %g mm", name, want.wide, want.high)
		}
	}
	s, p := ofSheet(t, "example club", "front")
	var ratio float64
	if _, err := fmt.Sscanf(s.Scale, "1:%g", &ratio); err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, c := range p.circles {
		if math.Abs(c[2]*ratio-4) < 1e-6 {
			n++
		}
	}
	if n != 2 {
		t.Errorf("front: %d guides of Ø8 are seen end on, want 2", n)
	}
}
