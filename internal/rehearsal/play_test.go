// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"errors"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/table"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/twin"
)

// still is a world in which nothing moves.
type still struct{ truth twin.Truth }

func (s still) Truth() twin.Truth { return s.truth }

func (still) PowerCut() {}

func (still) PowerCutAfter(float64) {}

// After a cut the game goes on from what was on disk, with a program that knows
// nothing else; a table that does not fit the log is a state lost.
func TestTakenUpAfterACut(t *testing.T) {
	start := chess.Start()
	e4, err := start.ParseUCI("e2e4")
	if err != nil {
		t.Fatal(err)
	}
	after := start.After(e4)
	var king board
	king[0] = chess.MakePiece(chess.White, chess.King)
	for name, c := range map[string]struct {
		stands board
		lost   int
	}{
		"as the log says": {places.StandingOf(after).Board, 0},
		"something else":  {king, 1},
	} {
		var restarted chess.Position
		m := &Machine{World: still{twin.Truth{Squares: c.stands}}, Settings: table.Settings{Machine: table.Machine{Side: chess.Black}}}
		m.Restart = func(pos chess.Position) (*table.Suspects, error) {
			restarted = pos
			return nil, nil
		}
		r := NewReferee(m, Spec{Number: 1, Seed: 1, HasCuts: true})
		r.cuts.begin(chess.NewGame(start), chess.Black)
		r.cuts.on(func(error) {})
		r.cuts.left = 10 // not yet
		if err := r.cuts.keep(journal.Record{State: journal.Guesting, What: journal.GuestMoved, By: journal.ByGuest, Move: e4}); err != nil {
			t.Fatal(err)
		}
		past, _, err := r.takeUp()
		if err != nil {
			t.Fatal(err)
		}
		if got := past.Game.Position(); got.FEN() != after.FEN() || restarted.FEN() != after.FEN() {
			t.Errorf("%s: goes on at %s, restarted at %s", name, got.FEN(), restarted.FEN())
		}
		if sum := r.Tally(); sum.PowerCuts != 1 || sum.LostState != c.lost {
			t.Errorf("%s: %+v\n%s", name, sum, r.Log())
		}
	}
}

// A record that the cut is quicker than is lost.
func TestNothingIsKeptWithoutPower(t *testing.T) {
	c := newCuts(still{}, 1, true)
	c.begin(chess.NewGame(chess.Start()), chess.Black)
	c.on(func(error) {})
	c.cut()
	if err := c.keep(journal.Record{}); !errors.Is(err, errCut) || len(c.entries) != 0 {
		t.Errorf("%v, %d entries", err, len(c.entries))
	}
}

func TestVerdict(t *testing.T) {
	for name, c := range map[string]struct {
		tally       Tally
		isFaultless bool
		want        bool
	}{
		"clean":                  {Tally{Slips: 3, Asked: 2}, true, false},
		"misread":                {Tally{Misread: 1}, false, true},
		"lost":                   {Tally{LostState: 1}, false, true},
		"stuck":                  {Tally{Stuck: 1}, false, true},
		"collided without fault": {Tally{Collisions: 1}, true, true},
		"collided with faults":   {Tally{Collisions: 1}, false, false},
	} {
		if got := c.tally.IsBad(c.isFaultless); got != c.want {
			t.Errorf("%s: %v", name, got)
		}
	}
	if names := strings.Join(FaultNames(), " "); !strings.HasSuffix(names, " power_cut") || !strings.Contains(names, "slip") {
		t.Errorf("faults: %s", names)
	}
}
