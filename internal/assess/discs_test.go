// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"strings"
	"testing"

	"boardhand/internal/rehearsal/fixture"
	"boardhand/internal/rig"
)

// A rig with pieces of another game is judged by those: each check has its answer,
// they are called by their names, and magnets are counted for as many as there are.
func TestRigWithPiecesOfAnotherGame(t *testing.T) {
	r, err := rig.Parse("discs.toml", []byte(fixture.Discs(t)), rig.Machine)
	if err != nil {
		t.Fatal(err)
	}
	said := ""
	for _, c := range Run(r, nil) {
		if c.Verdict == Fail && strings.HasPrefix(c.ID, "pull.") {
			t.Errorf("%s: %s", c.ID, c.Why)
		}
		said += c.Why + "\n"
	}
	if !strings.Contains(said, "a standing disc (7 g)") || !strings.Contains(said, "(tall disc)") || strings.Contains(said, "pawn") || strings.Contains(said, "rook") {
		t.Errorf("it says\n%s", said)
	}
	if got := BillOf(r).Feet; got != 5+2 {
		t.Errorf("%d foot magnets for five carried pieces", got)
	}
}
