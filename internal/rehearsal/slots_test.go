// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/rehearsal/fixture"
	"boardhand/internal/rig"
	"boardhand/internal/table"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/twin"
)

// A piece that is not in its slot is a state lost, after the machine's move and
// after the guest's: nobody's move was misread.
func TestPieceBesideItsSlotIsCounted(t *testing.T) {
	r, err := rig.Parse("rig.toml", []byte(fixture.Tray(t, "both")), rig.Machine)
	if err != nil {
		t.Fatal(err)
	}
	slots := r.Slots()
	for name, c := range map[string]struct {
		off  float64 // metres
		by   string
		lost int
	}{
		"in it, machine":  {0.001, journal.ByMachine, 0},
		"in it, guest":    {0.001, journal.ByGuest, 0},
		"off it, machine": {0.0137, journal.ByMachine, 1},
		"off it, guest":   {0.0137, journal.ByGuest, 1},
	} {
		pos, err := chess.ParseFEN("4k3/8/8/8/8/8/8/4K3 w - - 0 1")
		if err != nil {
			t.Fatal(err)
		}
		at := slots[2].Add(frame.Spot[frame.Board]{X: c.off})
		pawn := chess.MakePiece(chess.White, chess.Pawn)
		w, err := twin.New(r, twin.Options{Seed: 3, FEN: pos.FEN(), Beside: []twin.Aside{{Piece: pawn, At: &at}}})
		if err != nil {
			t.Fatal(err)
		}
		standing, err := places.ParseStanding("4k3/8/8/8/8/8/8/4K3 P@slot3")
		if err != nil {
			t.Fatal(err)
		}
		ref := NewReferee(&Machine{World: w, Settings: table.Settings{Machine: table.Machine{Layout: places.Layout{Slots: slots}}}}, Spec{})
		ref.game = chess.NewGame(pos)
		ref.table = table.New(table.Parts{}, ref.machine.Settings, journal.Past{Game: ref.game, Standing: &standing}, nil)
		ref.compare(journal.Record{By: c.by})
		if ref.tally.LostState != c.lost || ref.tally.Misread != 0 {
			t.Errorf("%s: lost state %d, misread %d; %s", name, ref.tally.LostState, ref.tally.Misread, ref.log.String())
		}
	}
}
