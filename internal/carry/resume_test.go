// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"context"
	"slices"
	"testing"

	"boardhand/internal/chess"
)

// A move interrupted after any of its steps and planned again from there ends
// as the whole plan does, and asks for nothing twice.
func TestResumeAfterAnyStep(t *testing.T) {
	rnd := seeded(t, 31)
	p := planner(t, nil)
	resumed := 0
	for range 300 {
		pos := played(rnd, chess.Black)
		moves := pos.LegalMoves(nil)
		m := moves[rnd.IntN(len(moves))]
		s := p.scene(&pos, rnd, 0.12)
		plan, err := p.Move(context.Background(), s, pos, m)
		if err != nil {
			t.Fatal(err)
		}
		if plan.Asides > 0 {
			continue // pieces waiting aside would have to go home as well
		}
		for n, step := range plan.Steps {
			if step.Do != Release && step.Do != Ask {
				continue
			}
			now := p.After(s, Plan{Steps: plan.Steps[:n+1]})
			rest, err := p.Resume(context.Background(), now, pos, m)
			if err != nil || rest.Doubt != "" {
				t.Fatalf("%s %v after step %d: %v %s", pos.FEN(), m, n+1, err, rest.Doubt)
			}
			if rest.Asks() > plan.Asks()-(Plan{Steps: plan.Steps[:n+1]}).Asks() {
				t.Errorf("%s %v after step %d asks again: %s", pos.FEN(), m, n+1, outline(rest))
			}
			resumed++
		}
	}
	t.Logf("%d plans resumed", resumed)
}

func TestResumeOfEveryKind(t *testing.T) {
	for _, c := range []struct {
		name, fen, move string
		gone            string    // square whose piece is off
		went            [2]string // a piece that has gone
		want            string
	}{
		{"nothing done", "rnbqkbnr/ppp1pppp/8/3p4/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 2", "d5e4", "", [2]string{}, "Please take the white pawn off e4.; carry p d5-e4"},
		{"captured piece off", "rnbqkbnr/ppp1pppp/8/3p4/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 2", "d5e4", "e4", [2]string{}, "carry p d5-e4"},
		{"all done", "rnbqkbnr/ppp1pppp/8/3p4/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 2", "d5e4", "e4", [2]string{"d5", "e4"}, ""},
		{"the king has castled", "rnbqk2r/pppp1ppp/5n2/2b1p3/2B1P3/5N2/PPPP1PPP/RNBQK2R b KQkq - 0 1", "e8g8", "", [2]string{"e8", "g8"}, "carry r h8-f8"},
		{"the taken pawn is off", "rnbqkbnr/ppp1pppp/8/8/3pP3/8/PPPP1PPP/RNBQKBNR b KQkq e3 0 1", "d4e3", "e4", [2]string{}, "carry p d4-e3"},
		{"the pawn has arrived", "4k3/8/8/8/8/8/p6K/1N6 b - - 0 1", "a2b1n", "b1", [2]string{"a2", "b1"}, "Please put a black knight on b1 in place of the black pawn."},
	} {
		p := planner(t, nil)
		pos := position(t, c.fen)
		m, err := pos.ParseUCI(c.move)
		if err != nil {
			t.Fatal(err)
		}
		s := p.scene(&pos, nil, 0)
		s.Pieces = slices.DeleteFunc(s.Pieces, func(piece Piece) bool { return piece.Square.String() == c.gone })
		for i := range s.Pieces {
			if s.Pieces[i].Square.String() == c.went[0] {
				s.Pieces[i].Square = chess.SquareAt(int(c.went[1][0]-'a'), int(c.went[1][1]-'1'))
				s.Pieces[i].At = p.Centre(s.Pieces[i].Square)
			}
		}
		plan, err := p.Resume(context.Background(), s, pos, m)
		if err != nil || plan.Doubt != "" {
			t.Fatalf("%s: %v %s", c.name, err, plan.Doubt)
		}
		if got := outline(plan); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, c.want)
		}
	}
}

func TestResumeRefusesAnotherPosition(t *testing.T) {
	p := planner(t, nil)
	pos := chess.Start()
	m, err := pos.ParseUCI("g1f3")
	if err != nil {
		t.Fatal(err)
	}
	s := p.scene(&pos, nil, 0)
	for i := range s.Pieces {
		if s.Pieces[i].Square.String() == "e2" {
			s.Pieces[i].Square = chess.SquareAt(4, 3)
		}
	}
	if _, err := p.Resume(context.Background(), s, pos, m); err == nil {
		t.Error("a scene that is no part of the move was planned for")
	}
	if _, err := p.Resume(context.Background(), s, pos, chess.MakeMove(0, 63, 0)); err == nil {
		t.Error("an illegal move was resumed")
	}
}
