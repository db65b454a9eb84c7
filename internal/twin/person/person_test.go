// SPDX-License-Identifier: Apache-2.0

package person

import (
	"math/rand/v2"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/magnet"
	"boardhand/internal/rig"
	"boardhand/internal/twin/physics"
	"boardhand/internal/unit"
)

// clock is a world in which only time passes.
type clock struct{ now float64 }

func (c *clock) Pass(seconds float64) { c.now += seconds }
func (c *clock) Keep()                {}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// seated is a person at a table on which a position stands.
func seated(t testing.TB, fen string, with func(*Habits)) *Person {
	t.Helper()
	r := rig.Default()
	br := func(grade string) unit.FluxDensity {
		lo, hi, err := magnet.Grade(grade)
		must(t, err)
		return (lo + hi) / 2
	}
	table, err := physics.New(r, physics.Setting{DriveBr: br(r.Lift.Grade), BaseBr: br(r.Pieces.Magnet.Grade),
		Chance: rand.New(rand.NewPCG(2, 2)), Tell: func(physics.Event) {}})
	must(t, err)
	pos, err := chess.ParseFEN(fen)
	must(t, err)
	for s := chess.Square(0); s < chess.NoSquare; s++ {
		if p := pos.At(s); p != chess.NoPiece {
			table.Turn(p).At = table.Centre(s)
		}
	}
	h := Habits{Chance: rand.New(rand.NewPCG(2, 3))}
	if with != nil {
		with(&h)
	}
	return New(Setting{Rig: r, Table: table, World: &clock{}, Game: pos, Habits: h})
}

func checkBoard(t testing.TB, p *Person, pos chess.Position) {
	t.Helper()
	for s := chess.Square(0); s < chess.NoSquare; s++ {
		got := chess.NoPiece
		if b := p.find(s); b != nil {
			got = b.Piece
		}
		if got != pos.At(s) {
			t.Fatalf("%v holds %v, the game says %v (%s)", s, got, pos.At(s), pos.FEN())
		}
	}
}

// The hand's work for the moves with more than one piece, and back to the rules.
func TestHandMakesEveryKindOfMove(t *testing.T) {
	for _, c := range []struct{ name, fen, move string }{
		{"short castling", "4k3/8/8/8/8/8/8/4K2R w K - 0 1", "e1g1"},
		{"long castling", "4k3/8/8/8/8/8/8/R3K3 w Q - 0 1", "e1c1"},
		{"en passant", "4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 1", "e5d6"},
		{"promotion", "8/4P3/8/8/8/8/8/K6k w - - 0 1", "e7e8q"},
		{"capture and promotion", "3r4/4P3/8/8/8/8/8/K6k w - - 0 1", "e7d8n"},
		{"capture", "4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1", "e4d5"},
	} {
		for _, careless := range []bool{false, true} {
			t.Run(c.name, func(t *testing.T) {
				p := seated(t, c.fen, func(h *Habits) { h.IsInterrupted, h.IsSloppy = careless, careless })
				pos, err := chess.ParseFEN(c.fen)
				must(t, err)
				m, err := pos.ParseUCI(c.move)
				must(t, err)
				p.Play(m)
				p.Finish()
				checkBoard(t, p, pos.After(m))
				if p.Played() != m || p.Hand().IsOut || p.Hand().Holds != nil {
					t.Errorf("played %v, hand %+v", p.Played(), *p.Hand())
				}
			})
		}
	}
}

// Whatever moment of a move it is, a person who remembers finishes it.
func TestRememberedMoveIsFinished(t *testing.T) {
	const fen = "4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1"
	pos, err := chess.ParseFEN(fen)
	must(t, err)
	m, err := pos.ParseUCI("e4d5")
	must(t, err)
	for cut := 0; ; cut++ {
		p := seated(t, fen, nil)
		p.Play(m)
		p.Elapse(0.3 * float64(cut))
		if !p.IsBusy() {
			break
		}
		var shelves []int
		for _, b := range p.table.Pieces {
			shelves = append(shelves, p.ShelfOf(b))
		}
		n := New(Setting{Rig: p.rig, Table: p.table, World: &clock{}, Game: pos, Habits: Habits{Chance: rand.New(rand.NewPCG(5, 3))}})
		n.Remember(p.Memory(), shelves, pos)
		n.Finish()
		checkBoard(t, n, pos.After(m))
		if n.Played() != m {
			t.Errorf("cut %d: played %v", cut, n.Played())
		}
		for _, b := range p.table.Pieces {
			if b.Place == physics.InHand {
				t.Errorf("cut %d: nobody holds the %v that is in a hand", cut, b.Piece)
			}
		}
	}
}
