// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"strings"
	"testing"

	"boardhand/internal/game"
	"boardhand/internal/unit"
)

func TestPatchChangesOneValueAndNothingElse(t *testing.T) {
	for _, c := range []struct {
		key, value string
		got        func(*Rig) any
		want       any
	}{
		{"board.square", `"44 mm"`, func(r *Rig) any { return r.Board.Square }, unit.MM(44)},
		{"board.friction", `0.25`, func(r *Rig) any { return r.Board.Friction }, 0.25},
		{"pieces.king.base", `"19 mm"`, func(r *Rig) any { return r.Pieces.Of(game.King).Base }, unit.MM(19)},
		{"pieces.pawn.mass", `"9 g"`, func(r *Rig) any { return r.Pieces.Of(game.Pawn).Mass }, unit.Grams(9)},
		{"axis.y.motor.gearing", `2`, func(r *Rig) any { return r.Axis.Y.Motor.Gearing }, 2.0},
		{"board.kinetic", `0.2`, func(r *Rig) any { return r.Board.Kinetic }, 0.2},                      // not there before
		{"pieces.king.balance", `0.4`, func(r *Rig) any { return r.Pieces.Of(game.King).Balance }, 0.4}, // into an inline table
		{"cable.1.owned", `["750 mm"]`, func(r *Rig) any { return r.Cables[1].Owned[0] }, unit.MM(750)}, // of the second table
		{"camera.image", `[640, 480]`, func(r *Rig) any { return r.Camera.Image }, [2]int{640, 480}},    // a list
	} {
		text, err := Patch(DefaultText, c.key, c.value)
		if err != nil {
			t.Fatal(err)
		}
		r, err := Parse("patched.toml", []byte(text), Machine)
		if err != nil {
			t.Fatalf("%s: %v", c.key, err)
		}
		if got := c.got(r); got != c.want {
			t.Errorf("%s: got %v, want %v", c.key, got, c.want)
		}
		if a, b := strings.Count(text, "#"), strings.Count(DefaultText, "#"); a != b {
			t.Errorf("%s: %d notes became %d", c.key, b, a)
		}
	}
	if text, err := Patch("", "board.square", `"40 mm"`); err != nil || !strings.Contains(text, "[board]\nsquare = \"40 mm\"") {
		t.Errorf("empty file: got %q %v", text, err)
	}
	if _, err := Patch("[board\n", "board.square", `"40 mm"`); err == nil {
		t.Error("broken TOML must be refused")
	}
}

func FuzzPatch(f *testing.F) {
	f.Add(DefaultText, "board.square", `"40 mm"`)
	f.Add("a = { b = 1 }", "a.c", "2")
	f.Add("[x]", "x.y", "1")
	f.Fuzz(func(t *testing.T, text, key, value string) {
		_, _ = Patch(text, key, value)
	})
}
