// SPDX-License-Identifier: Apache-2.0

package table

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/table/journal"
)

// The strength that a guest chooses counts for the next move, is on record, and asks
// nothing of anybody.
func TestStrengthIsChosen(t *testing.T) {
	p := &paper{player: []string{"e7e5"}, script: []string{"same", "same", "same", "move e2e4", "move e2e4", "same", "same"},
		requests: map[int]journal.Request{2: {Kind: journal.RequestStrength, Strength: "chalk"}}}
	p.offered = "needle"
	_ = p.run(t, "", "")
	at := slices.IndexFunc(p.records, func(r journal.Record) bool { return r.What == journal.StrengthSet })
	if at < 0 || p.records[at].Strength != "chalk" || p.records[0].Strength != "needle" || p.strength != "chalk" {
		t.Fatalf("set to %q; records %v", p.strength, p.what(journal.StrengthSet))
	}
	if chosen := slices.IndexFunc(p.records, func(r journal.Record) bool { return r.What == journal.Chosen }); chosen < at {
		t.Errorf("the move was chosen at record %d, the strength set at %d", chosen, at)
	}
}

// A hint names the piece first and the move when it is asked for again; each is on
// record by its fields, and after a move a new one begins.
func TestHints(t *testing.T) {
	hint := journal.Request{Kind: journal.RequestHint}
	p := &paper{player: []string{"e7e5"}, script: []string{"same", "same", "same", "same", "same", "move e2e4", "move e2e4", "same", "move e7e5", "move e7e5", "same", "same", "same"},
		requests: map[int]journal.Request{3: hint, 4: hint, 11: hint}}
	_ = p.run(t, "", "")
	var got []string
	for _, r := range p.records {
		if r.What == journal.Hinted {
			got = append(got, fmt.Sprint(r.State, " ", chess.SquareNames(r.Squares), r.SAN, ": ", r.Said))
		}
	}
	want := []string{"guest [b1]: Look at your knight on b1.", "guest [b1 a3]Na3: I would play knight from b1 to a3. Your move.", "guest [b1]: Look at your knight on b1."}
	if !slices.Equal(got, want) {
		t.Errorf("hints: %q, want %q", got, want)
	}
	if p.count(journal.GuestMoved) != 1 || p.count(journal.MachineMoved) != 1 {
		t.Errorf("the game did not go on: %v", p.trace)
	}
	for _, said := range want {
		p.says(t, strings.SplitN(said, ": ", 2)[1])
	}
}

// A new game begins where it was asked to, with odds of the side that the machine is to
// play; the task on disk has the position.
func TestNewGameFromAPosition(t *testing.T) {
	const ending = "4k3/8/8/8/8/8/8/4K2R w K - 0 1"
	for _, c := range []struct {
		ask  journal.Request
		want string
	}{
		{journal.Request{FEN: ending}, ending},
		{journal.Request{Odds: "queen"}, "rnb1kbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"},
		{journal.Request{Odds: "rook", Side: "white"}, "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/1NBQKBNR w Kkq - 0 1"},
		{journal.Request{}, "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"},
	} {
		c.ask.Kind = journal.RequestNew
		p := &paper{carried: [2]bool{true, true}, script: slices.Repeat([]string{"same"}, 8), requests: map[int]journal.Request{3: c.ask}}
		_ = p.run(t, "", "")
		task := p.table.Next()
		at := task.Position()
		if p.setTo != c.want || at.FEN() != c.want || !p.table.Arranged() || p.pos.FEN() != c.want {
			t.Errorf("%+v: set up to %s, the next game begins at %s", c.ask, p.setTo, at.FEN())
		}
		i := slices.IndexFunc(p.records, func(r journal.Record) bool { return r.What == journal.SetUpWanted })
		if kept, err := journal.ParseTask(p.records[i].Task); err != nil || kept != task {
			t.Errorf("kept as %q: %+v, %v", p.records[i].Task, kept, err)
		}
	}
}

// Where no game can begin is refused at once.
func TestNewGameFromNowhere(t *testing.T) {
	for want, r := range map[string]journal.Request{
		"it is over there":    {FEN: "7k/5Q2/6K1/8/8/8/8/8 b - - 0 1"},
		"a FEN has":           {FEN: "somewhere"},
		"odds are a queen":    {Odds: "king"},
		"not both":            {Odds: "queen", FEN: "4k3/8/8/8/8/8/8/4K2R w K - 0 1"},
		"pieces hold no magn": {Side: "white", Odds: "queen"},
	} {
		p := &paper{script: slices.Repeat([]string{"same"}, 4)}
		_ = p.run(t, "", "")
		r.Kind = journal.RequestNew
		if err := p.table.Request(r); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: %v, want %q", r, err, want)
		}
	}
}

// Where another program chooses, no strength is offered.
func TestStrengthOfAnotherProgram(t *testing.T) {
	p := &paper{script: slices.Repeat([]string{"same"}, 4)}
	_ = p.run(t, "", "")
	if err := p.table.Request(journal.Request{Kind: journal.RequestStrength, Strength: "chalk"}); err == nil || !strings.Contains(err.Error(), "not now") {
		t.Errorf("it was taken: %v", err)
	}
}
