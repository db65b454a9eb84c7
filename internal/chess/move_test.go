// SPDX-License-Identifier: Apache-2.0

package chess

import (
	"fmt"
	"strings"
	"testing"

	"boardhand/internal/game"
)

// The acts of a move, one kind of move after the other, as a person would say them.
func TestActs(t *testing.T) {
	for _, c := range []struct{ fen, move, want string }{
		{"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1", "g1f3", "N g1-f3"},
		{"4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1", "e4d5", "p d5--, P e4-d5"},
		{"4k3/8/8/3Pp3/8/8/8/4K3 w - e6 0 1", "d5e6", "p e5--, P d5-e6"},
		{"r3k2r/8/8/8/8/8/8/R3K2R w KQkq - 0 1", "e1g1", "K e1-g1, R h1-f1"},
		{"r3k2r/8/8/8/8/8/8/R3K2R b KQkq - 0 1", "e8c8", "k e8-c8, r a8-d8"},
		{"4k3/1P6/8/8/8/8/8/4K3 w - - 0 1", "b7b8n", "P b7-b8, P b8--, N --b8"},
		{"2r1k3/1P6/8/8/8/8/8/4K3 w - - 0 1", "b7c8q", "r c8--, P b7-c8, P c8--, Q --c8"},
	} {
		pos, err := ParseFEN(c.fen)
		if err != nil {
			t.Fatal(err)
		}
		m, err := pos.ParseUCI(c.move)
		if err != nil {
			t.Fatal(err)
		}
		var said []string
		for _, a := range pos.Acts(m) {
			said = append(said, fmt.Sprintf("%c %v-%v", a.Piece.Letter(), a.From, a.To))
		}
		if got := strings.Join(said, ", "); got != c.want {
			t.Errorf("%s in %s: %s, want %s", c.move, c.fen, got, c.want)
		}
	}
}

// In positions of a tree of moves, the acts bring the board to where Make does,
// and undone bring it back.
func TestActsDoWhatMakeDoes(t *testing.T) {
	n := 0
	var walk func(p Position, depth int)
	walk = func(p Position, depth int) {
		for _, m := range p.LegalMoves(nil) {
			acts, after := p.Acts(m), p.After(m)
			b := game.Setting(p.board)
			if b.Do(acts); b != game.Setting(after.board) {
				t.Fatalf("%v in %s: %v", m, p.FEN(), acts)
			}
			if b.Do(game.Undone(acts)); b != game.Setting(p.board) {
				t.Fatalf("%v in %s is not undone: %v", m, p.FEN(), game.Undone(acts))
			}
			if n++; depth > 1 {
				walk(after, depth-1)
			}
		}
	}
	for _, fen := range []string{startFEN,
		"r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1",
		"8/2p5/3p4/KP5r/1R3p1k/8/4P1P1/8 w - - 0 1",
		"r3k2r/Pppp1ppp/1b3nbN/nP6/BBP1P3/q4N2/Pp1P2PP/R2Q1RK1 w kq - 0 1"} {
		p, err := ParseFEN(fen)
		if err != nil {
			t.Fatal(err)
		}
		walk(p, 3)
	}
	t.Log(n, "moves")
}
