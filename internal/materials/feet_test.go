// SPDX-License-Identifier: Apache-2.0

package materials

import (
	"fmt"
	"strings"
	"testing"

	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Every foot of a table with both sides carried: 32 and one spare of each kind, in two
// layers of 1 mm for a magnet of 2 mm, each with a pocket, nested a knife's cut apart.
func TestFeetOfTheClubTable(t *testing.T) {
	l := Of(clubTable(t), nil)
	pieces, discs := 0, map[string]int{}
	for _, r := range l.Feet.Rings {
		pieces += r.Count
		discs[r.Side+" "+r.Kind] += r.Discs()
		if r.Layers != 2 || !alike(r.Pocket, unit.MM(5.2)) || r.Spare != 1 || r.Discs() != 2*(r.Count+1) {
			t.Errorf("%+v", r)
		}
	}
	if pieces != 32 || len(l.Magnets.Groups) != 12 || l.Magnets.Count != 32 || l.Magnets.Spare != 2 {
		t.Errorf("%d pieces, magnets %+v", pieces, l.Magnets)
	}
	for _, sheet := range l.Feet.Layout.Sheets {
		for _, p := range sheet {
			discs[p.Name]--
			if p.Width != p.Height {
				t.Errorf("%+v is no circle's square", p)
			}
		}
	}
	for name, n := range discs {
		if n != 0 {
			t.Errorf("%d discs of %s are not on the card", n, name)
		}
	}
}

// One side carried: the other side's bases are full discs, and stand as high.
func TestFeetOfOneSide(t *testing.T) {
	for _, r := range Of(rig.Default(), nil).Feet.Rings {
		if (r.Pocket > 0) != (r.Side == "black") || r.Layers != 2 {
			t.Errorf("%+v", r)
		}
	}
}

// A pocket too wide for its base is said, and not cut.
func TestPocketTooWide(t *testing.T) {
	r := rig.Default()
	r.Pieces.Magnet.Diameter = unit.MM(13)
	l := Of(r, nil)
	for _, x := range l.Feet.Rings {
		if x.Kind == "pawn" && x.Side == "black" {
			t.Errorf("%+v", x)
		}
	}
	if !strings.Contains(strings.Join(l.Notes, "\n"), "pawn's base of 14 mm leaves no wall") {
		t.Errorf("notes: %q", l.Notes)
	}
}

// Of a game whose kinds have no known numbers every piece may be of any kind, and that
// is said.
func TestFeetOfAnotherGame(t *testing.T) {
	text := rig.DefaultText
	from := strings.Index(text, "king   =")
	to := strings.Index(text, "\n[pieces.magnet]")
	text = text[:from] + "kinds = [\"disc\", \"tall_disc\"]\ncount = 12\n" +
		"disc = { height = \"6 mm\", base = \"20 mm\", mass = \"5 g\" }\ntall_disc = { height = \"12 mm\", base = \"20 mm\", mass = \"9 g\" }\n" + text[to:]
	r, err := rig.Parse("rig.toml", []byte(text), rig.Machine)
	if err != nil {
		t.Fatal(err)
	}
	l := Of(r, nil)
	got := ""
	for _, x := range l.Feet.Rings {
		got += fmt.Sprintf("%s %s %d; ", x.Side, x.Kind, x.Count)
	}
	if got != "white disc 12; white tall disc 12; black disc 12; black tall disc 12; " {
		t.Error(got)
	}
	if l.Magnets.Count != 12 || !strings.Contains(strings.Join(l.Notes, "\n"), "as if all 12 of a side could be of any kind") {
		t.Errorf("%d magnets, %q", l.Magnets.Count, l.Notes)
	}
}
