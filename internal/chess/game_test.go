// SPDX-License-Identifier: Apache-2.0

package chess

import (
	"strings"
	"testing"
)

// play makes a game from a position and moves in algebraic notation.
func play(t testing.TB, fen, moves string) *Game {
	t.Helper()
	g := NewGame(mustFEN(t, fen))
	for _, word := range strings.Fields(moves) {
		p := g.Position()
		m, err := p.ParseSAN(word)
		if err == nil {
			err = g.Push(m)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	return g
}

func TestOutcome(t *testing.T) {
	dance := "Nf3 Nf6 Ng1 Ng8 "
	for _, c := range []struct {
		name, fen, moves, want string
	}{
		{"start", startFEN, "", "goes on"},
		{"fool's mate", startFEN, "f3 e5 g4 Qh4#", "black wins by checkmate"},
		{"stalemate", "7k/5Q2/8/8/8/8/8/K7 w - - 0 1", "Qf7-g6 ", "draw by stalemate"},
		{"last piece taken", "4k3/8/8/8/8/8/3q4/4K3 w - - 0 1", "Kxd2", "draw by dead position"},
		{"twice", startFEN, dance, "goes on"},
		{"three times", startFEN, dance + dance, "goes on; a draw may be claimed: threefold repetition"},
		{"five times", startFEN, dance + dance + dance + dance, "draw by fivefold repetition"},
		{"99 half-moves", "4k2r/8/8/8/8/8/8/4K2R w - - 98 80", "Kd1", "goes on"},
		{"100 half-moves", "4k2r/8/8/8/8/8/8/4K2R w - - 99 80", "Kd1", "goes on; a draw may be claimed: fifty-move rule"},
		{"150 half-moves", "4k2r/8/8/8/8/8/8/4K2R w - - 149 80", "Kd1", "draw by seventy-five-move rule"},
		{"mate on the 150th", "6k1/5ppp/8/8/8/8/8/R3K3 w - - 149 80", "Ra8#", "white wins by checkmate"},
	} {
		if got := play(t, c.fen, c.moves).Outcome().String(); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// The first time the e4 pawn can be taken en passant, the second time it
// cannot: these are two positions (FIDE 9.2.3). The same with lost rights.
func TestRepetitionNeedsTheSameRights(t *testing.T) {
	for _, c := range []struct {
		fen, moves string
		times      int
	}{
		{"4k3/8/8/8/3p4/8/4P3/4K3 w - - 0 1", "e4 Kd8 Kd1 Ke8 Ke1 Kd8 Kd1 Ke8 Ke1", 2},
		{"4k3/8/8/8/8/8/4P3/4K3 w - - 0 1", "e4 Kd8 Kd1 Ke8 Ke1 Kd8 Kd1 Ke8 Ke1", 3},
		{"4k2r/8/8/8/8/8/8/R3K3 w Qk - 0 1", "Ra2 Rh7 Ra1 Rh8 Ra2 Rh7 Ra1 Rh8", 2},
		{"4k2r/8/8/8/8/8/8/R3K3 w - - 0 1", "Ra2 Rh7 Ra1 Rh8 Ra2 Rh7 Ra1 Rh8", 3},
	} {
		if got := play(t, c.fen, c.moves).Times(); got != c.times {
			t.Errorf("%s %s: %d times, want %d", c.fen, c.moves, got, c.times)
		}
	}
}

func TestClaims(t *testing.T) {
	g := play(t, startFEN, "Nf3 Nf6 Ng1 Ng8 Nf3 Nf6 Ng1")
	back := MakeMove(SquareAt(5, 5), SquareAt(6, 7), NoKind)
	if r := g.ClaimWith(back); r != Threefold {
		t.Errorf("announcing the third appearance: %q", r)
	}
	if err := g.ClaimDraw(); err == nil {
		t.Error("a draw was granted after two appearances")
	}
	if err := g.Push(back); err != nil {
		t.Fatal(err)
	}
	if err := g.ClaimDraw(); err != nil || g.Outcome().String() != "draw by threefold repetition" {
		t.Errorf("claim: %v, %s", err, g.Outcome())
	}
}

func TestEndingAGameByWord(t *testing.T) {
	g := NewGame(Start())
	if g.AgreeDraw() == nil {
		t.Error("a draw was agreed before both had moved")
	}
	if err := g.Resign(White); err != nil || g.Outcome().String() != "black wins by resignation" {
		t.Errorf("resigning: %v, %s", err, g.Outcome())
	}
	if g.Resign(Black) == nil || g.Push(MakeMove(12, 28, NoKind)) == nil {
		t.Error("a finished game went on")
	}
	g = play(t, startFEN, "e4 e5")
	if err := g.AgreeDraw(); err != nil || g.Outcome().String() != "draw by agreement" {
		t.Errorf("agreeing: %v, %s", err, g.Outcome())
	}
	if err := g.Pop(); err != nil || g.Outcome().Over() || len(g.Moves) != 1 {
		t.Errorf("taking back: %v, %s", err, g.Outcome())
	}
	g = play(t, "4k3/8/8/8/8/8/2q5/4K3 b - - 0 1", "")
	if err := g.Resign(Black); err != nil || g.Outcome().String() != "draw by resignation" {
		t.Errorf("resigning against a bare king: %v, %s", err, g.Outcome())
	}
}

func TestPushRefusesIllegalMoves(t *testing.T) {
	g := NewGame(Start())
	if err := g.Push(MakeMove(12, 36, NoKind)); err == nil || !strings.Contains(err.Error(), "does not reach e5") {
		t.Errorf("e2e5: %v", err)
	}
	if g.Pop() == nil {
		t.Error("a move was taken back from the start")
	}
	filled := Game{Start: Start(), Moves: []Move{MakeMove(12, 28, NoKind)}}
	if p := filled.Position(); p.FEN() != "rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq e3 0 1" {
		t.Errorf("a game built from its moves stands at %s", p.FEN())
	}
}

// The positions as written out by hand.
func TestOdds(t *testing.T) {
	for _, c := range []struct {
		side        Color
		piece, want string
	}{
		{Black, "queen", "rnb1kbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"},
		{White, "queen", "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNB1KBNR w KQkq - 0 1"},
		{Black, "rook", "1nbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQk - 0 1"},
		{White, "rook", "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/1NBQKBNR w Kkq - 0 1"},
		{Black, "knight", "r1bqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"},
		{White, "pawn", "rnbqkbnr/pppppppp/8/8/8/8/PPPPP1PP/RNBQKBNR w KQkq - 0 1"},
		{Black, "pawn", "rnbqkbnr/ppppp1pp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"},
	} {
		p, err := Odds(c.side, c.piece)
		if err != nil || p.FEN() != c.want {
			t.Errorf("%s without a %s: %s, %v", c.side, c.piece, p.FEN(), err)
		}
		if read, err := ParseFEN(c.want); err != nil || p != read {
			t.Errorf("%s without a %s is not as it is read: %v", c.side, c.piece, err)
		}
	}
	if _, err := Odds(Black, "king"); err == nil {
		t.Error("a king was given as odds")
	}
}
