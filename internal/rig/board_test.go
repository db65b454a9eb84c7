// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"math"
	"strings"
	"testing"

	"boardhand/internal/game"
	"boardhand/internal/unit"
)

// small is the default rig with another field and a tray.
func small(t *testing.T, files, ranks string) *Rig {
	t.Helper()
	text := edit(t, `square = "40 mm"`, "files = "+files+"\nranks = "+ranks+"\nsquare = \"40 mm\"")
	r, err := Parse("rig.toml", []byte(text), Machine)
	if err != nil {
		t.Fatal(err)
	}
	r.Removal = Removal{Mode: "tray", Slots: 3, Gap: 0.04}
	return r
}

// Files and ranks are the rig's: where squares and slots are follows from them.
func TestFieldOfAnotherSize(t *testing.T) {
	if b := Default().Board; b.Files != 8 || b.Ranks != 8 {
		t.Errorf("a rig that does not say has %d × %d squares", b.Files, b.Ranks)
	}
	r := small(t, "5", "6")
	x, y := r.Board.Half()
	if x.MM() != 100 || y.MM() != 120 || r.Board.Field().MM() != 240 {
		t.Errorf("the field reaches %v and %v, its longer side is %v", x, y, r.Board.Field())
	}
	if c := r.Board.Centre(0, 0); math.Hypot(c.X+0.08, c.Y+0.1) > 1e-12 {
		t.Errorf("a1 is centred at %v", c)
	}
	if at := r.Slots()[2]; math.Hypot(at.X+0.14, at.Y-0.08) > 1e-12 {
		t.Errorf("the third slot is at %v", at)
	}
}

func TestFieldHoldsAGame(t *testing.T) {
	r := small(t, "5", "6")
	if err := r.Board.Holds(game.Board{Files: 5, Ranks: 5}); err != nil {
		t.Error(err)
	}
	err := r.Board.Holds(game.Board{Files: 8, Ranks: 8})
	if want := "the game takes 8 × 8 squares and the rig's board has 5 × 6: set board.files to 8 and board.ranks to 8"; err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
}

// A field has 2 to 8 files and ranks.
func TestFieldOutOfRange(t *testing.T) {
	for _, bad := range []string{"1", "9", "5.5", `"5"`} {
		_, err := Parse("rig.toml", []byte(edit(t, `square = "40 mm"`, "files = "+bad+"\nsquare = \"40 mm\"")), Machine)
		if err == nil || !strings.HasPrefix(err.Error(), "rig.toml:8: board.files") {
			t.Errorf("files = %s: %v", bad, err)
		}
	}
}

// The trapdoor lies beside the field, along one of its sides.
func TestTrapdoorBesideAnotherField(t *testing.T) {
	for at, fits := range map[[2]float64]bool{{0.12, 0}: true, {0.10, 0}: false, {0, 0.13}: true, {0, 0.12}: false, {0.10, 0.12}: false} {
		r := small(t, "5", "6")
		r.Removal.Mode, r.Removal.Chute[0], r.Removal.Chute[1] = "chute", unit.Length(at[0]), unit.Length(at[1])
		if err := r.trapdoor(map[string]bool{"removal.chute": true}); (err == nil) != fits {
			t.Errorf("at %v: %v", at, err)
		}
	}
}

// Squares of 37 mm instead of 40 make the field 24 mm smaller: the rim is 12 mm wider, and
// the sheet as large as before. One that lies on a ledge is cut to its border.
func TestSheetKeepsItsSizeWithOtherSquares(t *testing.T) {
	b := Default().Board
	x, y := b.Sheet()
	b.SetSquare(unit.MM(37))
	if nx, ny := b.Sheet(); b.Rim.MM() != 46 || nx != x || ny != y {
		t.Errorf("rim %v, sheet %v × %v, was %v × %v", b.Rim, nx, ny, x, y)
	}
	if b.SetSquare(unit.MM(60)); b.Rim != 0 {
		t.Errorf("a field larger than the sheet leaves no rim, not %v", b.Rim)
	}
	b = Default().Board
	b.Held = "ledge"
	b.SetSquare(unit.MM(37))
	if b.Rim.MM() != 34 {
		t.Errorf("on a ledge: %v", b.Rim)
	}
}
