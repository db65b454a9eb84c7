// SPDX-License-Identifier: Apache-2.0

package wording

import (
	"slices"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
)

func position(t *testing.T, fen string) chess.Position {
	t.Helper()
	if fen == "" {
		return chess.Start()
	}
	pos, err := chess.ParseFEN(fen)
	if err != nil {
		t.Fatal(err)
	}
	return pos
}

func move(t *testing.T, pos chess.Position, text string) chess.Move {
	t.Helper()
	if text == "" {
		return 0
	}
	m, err := pos.ParseUCI(text)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func squares(names ...string) (out []chess.Square) {
	for _, n := range names {
		out = append(out, chess.SquareAt(int(n[0]-'a'), int(n[1]-'1')))
	}
	return out
}

// The positions that the sentences are said of.
const (
	castling  = "r3k2r/pppppppp/8/8/8/8/PPPPPPPP/R3K2R w KQkq - 0 1"
	passing   = "4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 1"
	promoting = "1n5k/P7/8/8/8/8/8/4K3 w - - 0 1"
)

func TestMoveWords(t *testing.T) {
	for _, c := range []struct{ fen, move, want string }{
		{"", "", "nothing was played"},
		{"", "g1f3", "knight from g1 to f3"},
		{"4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1", "e4d5", "pawn from e4 takes the pawn on d5"},
		{passing, "e5d6", "pawn from e5 takes the pawn on d6 en passant"},
		{castling, "e1g1", "castling kingside"},
		{castling, "e1c1", "castling queenside"},
		{promoting, "a7a8r", "pawn from a7 to a8 and becomes a rook"},
		{promoting, "a7b8q", "pawn from a7 takes the knight on b8 and becomes a queen"},
	} {
		pos := position(t, c.fen)
		if got := MoveWords(pos, move(t, pos, c.move)); got != c.want {
			t.Errorf("%s in %q: %q, want %q", c.move, c.fen, got, c.want)
		}
	}
}

func TestYourMove(t *testing.T) {
	for _, c := range []struct {
		fen, move string
		machine   chess.Color
		want      string
	}{
		{"", "", chess.Black, "It is your move; you play White."},
		{"", "e2e4", chess.White, "I played pawn from e2 to e4. Your move."},
		{"", "e2e4", chess.Black, "It is your move; you play Black."}, // a person's own move: nothing to tell
		{"4k3/8/8/8/8/8/4r3/K7 b - - 0 1", "e2e1", chess.Black, "I played rook from e2 to e1. Check: your move."},
	} {
		g := chess.NewGame(position(t, c.fen))
		if c.move != "" {
			if err := g.Push(move(t, g.Position(), c.move)); err != nil {
				t.Fatal(err)
			}
		}
		if got := YourMove(g, c.machine); got != c.want {
			t.Errorf("after %q, the machine is %v: %q, want %q", c.move, c.machine, got, c.want)
		}
	}
}

// A board that is no finished move: what the sentence says goes by what is seen, and
// names one square, two or many.
func TestMendNotice(t *testing.T) {
	for _, c := range []struct {
		fen   string
		state sight.State
		seen  []string
		want  string
	}{
		{"", sight.Illegal, nil, "The board differs from the game; please set it as the plan shows."},
		{"", sight.Illegal, []string{"e5"}, "No legal move explains e5. Please set it back, or play another move."},
		{"", sight.Illegal, []string{"e2", "e5"}, "No legal move explains e2 and e5. Please set it back, or play another move."},
		{"", sight.Illegal, []string{"a3", "e2", "e5"}, "No legal move explains a3, e2 and e5. Please set it back, or play another move."},
		{"", sight.Partial, []string{"b1"}, "The move is not finished yet: I see a change on b1."},
		{"", sight.Partial, []string{"e2", "e4"}, "I see the beginning of pawn from e2 to e4; please finish it."},
		{castling, sight.Partial, []string{"e1", "g1"}, "If you are castling, the king goes to g1 and the rook from h1 to f1."},
		{castling, sight.Partial, []string{"c1", "e1"}, "If you are castling, the king goes to c1 and the rook from a1 to d1."},
		{passing, sight.Partial, []string{"d6", "e5"}, "En passant: please take the pawn on d5 off the board."},
		{promoting, sight.Partial, []string{"a7", "a8"}, "Your pawn reaches a8: please exchange it for the piece you want."},
	} {
		pos := position(t, c.fen)
		n := MendNotice(sight.Reading{State: c.state, Squares: squares(c.seen...)}, pos)
		if n.Text != c.want || n.Kind != notice.PleaseMend || n.FEN != pos.FEN() || !slices.Equal(n.Squares, squares(c.seen...)) {
			t.Errorf("%s on %v: %+v, want %q", c.state, c.seen, n, c.want)
		}
	}
}

func TestStartNotice(t *testing.T) {
	for _, c := range []struct {
		seen []string
		want string
	}{
		{nil, "The board does not show the position yet. Please set it as the plan shows."},
		{[]string{"e2"}, "The board does not show the position yet: please look at e2."},
		{[]string{"d2", "e2"}, "The board does not show the position yet: please look at d2 and e2."},
	} {
		if n := StartNotice(sight.Reading{State: sight.Partial, Squares: squares(c.seen...)}, chess.Start()); n.Text != c.want || n.Kind != notice.PleaseMend {
			t.Errorf("%v: %q, want %q", c.seen, n.Text, c.want)
		}
	}
}

func TestReachNotice(t *testing.T) {
	r := sight.Reading{Squares: squares("e2", "e4")}
	if got, want := ReachNotice(chess.Start(), r).Text, "Please look at e2 and e4: the pieces should stand as at the start of a game."; got != want {
		t.Errorf("at the start: %q, want %q", got, want)
	}
	other := position(t, castling)
	if n, want := ReachNotice(other, r), "Please set the board as the plan shows: I see a difference on e2 and e4."; n.Text != want || n.FEN != other.FEN() {
		t.Errorf("elsewhere: %q, want %q", n.Text, want)
	}
}

func TestFinishOwnMove(t *testing.T) {
	for _, c := range []struct{ fen, move, want string }{
		{"", "g1f3", "My knight slipped: please put it on f3."},
		{castling, "e1c1", "I could not finish castling: please put my king on c1 and my rook from a1 on d1."},
		{promoting, "a7a8n", "Please put a white knight on a8 in place of my pawn."},
	} {
		pos := position(t, c.fen)
		if got := FinishOwnMove(pos, move(t, pos, c.move)); got != c.want {
			t.Errorf("%s: %q, want %q", c.move, got, c.want)
		}
	}
}

func TestGameOver(t *testing.T) {
	for _, c := range []struct {
		outcome chess.Outcome
		want    string
	}{
		{chess.Outcome{Result: chess.Wins(chess.Black), Reason: chess.Checkmate}, "The game is over: I win by checkmate. Thank you for the game."},
		{chess.Outcome{Result: chess.Wins(chess.White), Reason: chess.Resignation}, "The game is over: you win by resignation. Well played."},
		{chess.Outcome{Result: chess.Draw, Reason: chess.Stalemate}, "The game is drawn: stalemate. Thank you for the game."},
		{chess.Outcome{}, "The game stops here."},
	} {
		if got := GameOver(c.outcome, chess.Black); got != c.want {
			t.Errorf("%v: %q, want %q", c.outcome, got, c.want)
		}
	}
}

// Each choice has its move, and there is always a way to say that it is none of them.
func TestWhichMove(t *testing.T) {
	pos := chess.Start()
	a, b := move(t, pos, "e2e4"), move(t, pos, "g1f3")
	q := WhichMove([]chess.Move{a, 0, b}, pos)
	if want := []string{"pawn from e2 to e4", "nothing was played", "knight from g1 to f3", "none of these"}; !slices.Equal(q.Choices, want) {
		t.Errorf("the choices are %q", q.Choices)
	}
	if !slices.Equal(q.Moves, []chess.Move{a, 0, b, 0}) {
		t.Errorf("their moves are %v", q.Moves)
	}
}
