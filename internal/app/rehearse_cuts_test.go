// SPDX-License-Identifier: Apache-2.0

package app

import (
	"encoding/json"
	"path/filepath"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/rehearsal"
	"boardhand/internal/rehearsal/fixture"
	"boardhand/internal/rig"
	"boardhand/internal/session"
	"boardhand/internal/twin"
)

// The power goes now and then; each time the game goes on from what the log
// kept.
func TestRehearsePowerCuts(t *testing.T) {
	whole(t)
	rigFile := write(t, filepath.Join(t.TempDir(), "rig.toml"), fixture.Tray(t, "both"))
	code, out, errs := cli(t, "rehearse", rigFile, "--games", "1", "--plies", "3", "--faults", "power_cut,second_mind", "--seed", "2", "--json")
	var sum rehearsal.Tally
	if err := json.Unmarshal([]byte(out), &sum); code != fine || err != nil {
		t.Fatalf("exit code %d, %v: %s%s", code, err, out, errs)
	}
	if sum.PowerCuts < 2 || sum.TakenBack == 0 || sum.Misread+sum.LostState+sum.Stuck != 0 {
		t.Errorf("the power was cut and the game went on: %+v", sum)
	}
}

// The reader of a session that takes up a game knows the tray as the first one
// did: a piece that was let go near the next slot stands in neither.
func TestTakenUpReaderKnowsTheTray(t *testing.T) {
	whole(t)
	r, err := rig.Parse("rig.toml", []byte(fixture.Tray(t, "both")), rig.Machine)
	if err != nil {
		t.Fatal(err)
	}
	slots := r.Slots()
	lost := slots[20].Add(frame.Spot[frame.Board]{X: -0.0128, Y: 0.0048})
	b, err := session.SetUp(r, chess.Start(), twin.Options{Seed: 100, Beside: []twin.Aside{{Piece: chess.MakePiece(chess.White, chess.Pawn), At: &lost}}})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.Restart(chess.Start()); err != nil {
		t.Fatal(err)
	}
	pic, err := b.World.Camera().Look(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.Eye.Glance(t.Context(), pic); err != nil {
		t.Fatal(err)
	}
	for k, p := range b.Eye.Present(slots) {
		if !p.Open || p.Belief > 0.5 {
			t.Errorf("slot %s: %+v, with a pawn at %v only", rig.SlotName(k, len(slots)), p, lost)
		}
	}
}
