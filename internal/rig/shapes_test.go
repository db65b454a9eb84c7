// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"slices"
	"strings"
	"testing"

	"boardhand/internal/game"
	"boardhand/internal/unit"
)

// withKinds is the default rig with other pieces.
func withKinds(t *testing.T, kinds string) (*Rig, error) {
	t.Helper()
	from, to := strings.Index(DefaultText, "king   ="), strings.Index(DefaultText, "[pieces.magnet]")
	if from < 0 || to < from {
		t.Fatal("the default rig has no kinds of pieces")
	}
	return Parse("rig.toml", []byte(DefaultText[:from]+kinds+"\n"+DefaultText[to:]), Machine)
}

const twoDiscs = `kinds = ["tall_disc", "disc"]
count = 12
tall_disc = { height = "20 mm", base = "18 mm", mass = "12 g", balance = 0.4 }
disc = { height = "6 mm", base = "15 mm", mass = "7 g" }`

func TestPiecesOfAnotherGame(t *testing.T) {
	r, err := withKinds(t, twoDiscs)
	if err != nil {
		t.Fatal(err)
	}
	kinds := r.Pieces.Kinds()
	if got := kinds.Keys(); !slices.Equal(got, []string{"tall_disc", "disc"}) {
		t.Fatalf("%v", got)
	}
	tall, disc := r.Pieces.Of(kinds.All()[0]), r.Pieces.Of(kinds.All()[1])
	if *tall != (Piece{unit.MM(20), unit.MM(18), unit.Grams(12), 0.4}) || *disc != (Piece{unit.MM(6), unit.MM(15), unit.Grams(7), balanceShare}) {
		t.Errorf("%+v %+v", *tall, *disc)
	}
	if r.Pieces.Widest() != unit.MM(18) || r.Pieces.Lightest() != disc || r.Removal.Slots != 12 {
		t.Errorf("the widest base is %v, the lightest %v, the tray has %d slots", r.Pieces.Widest(), r.Pieces.Lightest(), r.Removal.Slots)
	}
	other := *r
	other.Pieces.Of(kinds.All()[1]).Base = unit.MM(14)
	if got := Changes(r, &other); !slices.Equal(got, []string{"pieces.disc.base"}) {
		t.Errorf("a copy has its own shapes, and differs in %v", got)
	}
	if got := Changes(Default(), r); !slices.Contains(got, "pieces.kinds") {
		t.Errorf("the default rig differs in %v", got)
	}
	if err := r.Plays(game.Board{Files: 8, Ranks: 8}, kinds); err != nil {
		t.Error(err)
	}
}

func TestBadPiecesOfAnotherGame(t *testing.T) {
	for _, c := range []struct{ kinds, says string }{
		{`kinds = []`, "rig.toml:17: pieces.kinds: a game has 1 to 7 kinds of pieces; got 0"},
		{`kinds = "disc"`, "takes a list"},
		{`kinds = ["magnet"]`, "magnet is a key of [pieces] already"},
		{`kinds = ["disc", "disc"]`, "named twice"},
		{`kinds = ["disc"]`, "pieces.disc.height is missing; it takes 5 mm to 150 mm"},
		{twoDiscs + "\nking = { height = \"50 mm\" }", "unknown key pieces.king; known here: "},
		{strings.Replace(twoDiscs, `"6 mm"`, `"6"`, 1), "pieces.disc.height"},
		{strings.Replace(twoDiscs, `"15 mm"`, `"95 mm"`, 1), "pieces.disc.base must be 4 mm to 60 mm"},
		{strings.Replace(twoDiscs, `"15 mm"`, `"45 mm"`, 1), "pieces.disc.base is 45 mm, wider than its square"},
		{strings.Replace(twoDiscs, `12`, `40`, 1), "pieces.count must be 1 to 32"},
	} {
		if _, err := withKinds(t, c.kinds); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s:\n%v\nwant %s", c.kinds, err, c.says)
		}
	}
}
