// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"context"
	"strings"
	"testing"

	"boardhand/internal/photo"
	"boardhand/internal/sight"
	"boardhand/internal/table/journal"
	"boardhand/internal/twin"
)

// moody is a world whose hand is where a script says, and a reader that sees what it says,
// a letter a picture:
//
//	. nobody   r the hand is out, beside the field   o over the field
//
// and a capital where the picture is read to show a hand.
type moody struct {
	still
	script string
}

func (m *moody) Truth() twin.Truth {
	at := strings.ToLower(m.script[:1])
	return twin.Truth{HandOut: at != ".", HandOver: at == "o"}
}

func (m *moody) InWay(context.Context, photo.Picture, sight.Way) (sight.Obstacle, error) {
	return sight.Obstacle{IsHand: m.script[:1] != strings.ToLower(m.script[:1])}, nil
}

// A hand over the field that no picture is read to show is missed, whatever else is seen
// of it; one that is seen on its way in, or late, is not.
func TestHandsThatAreMissed(t *testing.T) {
	for script, want := range map[string][2]int{
		"....":        {0, 0},
		".rOOr.":      {1, 0},
		".rooOr.":     {1, 0},
		".Roor.":      {1, 0},
		".roor.":      {1, 1},
		".roo":        {1, 1},
		".rr.":        {0, 0},
		".roorOo..":   {2, 1},
		".oO..oo..O.": {3, 1},
	} {
		m := &moody{script: script}
		r := NewReferee(&Machine{World: m}, Spec{})
		for g := (watched{m, r}); ; m.script = m.script[1:] {
			if _, err := g.InWay(t.Context(), photo.Picture{}, sight.Way{}); err != nil {
				t.Fatal(err)
			}
			if len(m.script) == 1 {
				break
			}
		}
		if sum := r.Tally(); sum.Hands != want[0] || sum.Missed != want[1] || sum.Watched != len(script) {
			t.Errorf("%s: %d hands, %d missed in %d pictures, want %v", script, sum.Hands, sum.Missed, sum.Watched, want)
		}
	}
}

// A carriage that waits though nobody reaches in waits for nothing.
func TestHoldsForNobody(t *testing.T) {
	m := &moody{script: "r"}
	r := NewReferee(&Machine{World: m}, Spec{})
	for _, script := range []string{"r", ".", "o"} {
		m.script = script
		if err := r.Append(t.Context(), journal.Record{What: journal.HandSeen}); err != nil {
			t.Fatal(err)
		}
	}
	if sum := r.Tally(); sum.Held != 3 || sum.FalseHolds != 1 {
		t.Errorf("%d held, %d of them for nobody", sum.Held, sum.FalseHolds)
	}
}
