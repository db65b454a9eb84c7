// SPDX-License-Identifier: Apache-2.0

package chess

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// sampleEnd is where the sample game of the PGN standard ends, 85 plies.
const sampleEnd = "8/8/4R1p1/2k3p1/1p4P1/1P1b1P2/3K1n2/8 b - - 2 43"

// The sample game of the standard (Fischer–Spassky, Belgrade 1992, round 29;
// moves from memory of the public record, the last position as published)
// reads, and prints exactly as it was read: it is in export format.
func TestPGNSampleGame(t *testing.T) {
	text, err := os.ReadFile("testdata/sample.pgn")
	if err != nil {
		t.Fatal(err)
	}
	games, err := ReadPGN(string(text))
	if err != nil || len(games) != 1 {
		t.Fatalf("%d games, %v", len(games), err)
	}
	g := games[0]
	p := g.Position()
	if p.FEN() != sampleEnd || len(g.Moves) != 85 || g.Outcome().Result != Draw {
		t.Errorf("%d plies to %s, %s", len(g.Moves), p.FEN(), g.Outcome())
	}
	if g.PGN() != string(text) {
		t.Errorf("printed:\n%s\nwant:\n%s", g.PGN(), text)
	}
}

// The sample game of the Laws of Chess, appendix C, in its own notation (moves
// from memory of the public text, the last position as published).
func TestLawsSampleGame(t *testing.T) {
	games, err := ReadPGN(`1. e4 e5 2. Nf3 Nf6 3. d4 exd4 4. e5 Ne4 5. Qxd4 d5 6. exd6 e.p. Nxd6
		7. Bg5 Nc6 8. Qe3+ Be7 9. Nbd2 0-0 10. 0-0-0 Re8 11. Kb1 (=)`)
	if err != nil || len(games) != 1 {
		t.Fatalf("%d games, %v", len(games), err)
	}
	p := games[0].Position()
	if p.FEN() != "r1bqr1k1/ppp1bppp/2nn4/6B1/8/4QN2/PPPN1PPP/1K1R1B1R b - - 9 11" || len(games[0].Moves) != 21 {
		t.Errorf("%d plies to %s", len(games[0].Moves), p.FEN())
	}
}

const awkward = "\ufeff% an escape line\n" + `[Event "a \"quoted\" \\ name"]
[Result "0-1"]
; a comment to the end of the line with 1. d4
1.f3 $2 {a comment
with [brackets] and (parentheses)} e5 (1... d5 2. e4 (2. d4 {deep)}) ; ) not the end
2... dxe4) 2.g4?? Qh4# 0-1
[White "second"]
[SetUp "1"]
[FEN "4k3/P7/8/8/8/8/8/4K3 b - - 5 12"]

12... Kd7 13. a8=Q 1-0

*
`

func TestPGNReadsWhatPeopleWrite(t *testing.T) {
	games, err := ReadPGN(awkward)
	if err != nil || len(games) != 3 {
		t.Fatalf("%d games, %v", len(games), err)
	}
	if g := games[0]; g.Tag("Event") != `a "quoted" \ name` || g.Outcome().String() != "black wins by checkmate" || len(g.Moves) != 4 {
		t.Errorf("first: %q, %s, %d plies", g.Tags, g.Outcome(), len(g.Moves))
	}
	const second = `[Event "?"]
[Site "?"]
[Date "????.??.??"]
[Round "?"]
[White "second"]
[Black "?"]
[Result "1-0"]
[FEN "4k3/P7/8/8/8/8/8/4K3 b - - 5 12"]
[SetUp "1"]

12... Kd7 13. a8=Q 1-0

`
	if got := games[1].PGN(); got != second {
		t.Errorf("second prints:\n%s", got)
	}
	if g := games[2]; len(g.Moves) != 0 || g.Outcome().Over() {
		t.Errorf("third: %d plies, %s", len(g.Moves), g.Outcome())
	}
}

// A game that cannot be read hides no other one; it is told by its number and line.
func TestPGNsGoOnAfterAnError(t *testing.T) {
	const text = `[Event "a"]

1. e4 e5 1/2-1/2

[Event "b"]

1. e4 e4 {no such move}
2. d4 *

[Event "c
[Site "?"]

1. d4 *

[Event "d"]
[FEN "nonsense"]

*

[Event "e"]

1. Nf3 1-0
`
	var got []string
	for _, r := range ReadPGNs(text) {
		if r.Err != nil {
			got = append(got, fmt.Sprintf("%d, line %d: not read", r.N, r.Line))
			continue
		}
		got = append(got, fmt.Sprintf("%d, line %d: %s %s", r.N, r.Line, r.Game.Tag("Event"), r.Game.Outcome().Result))
	}
	want := "1, line 1: a 1/2-1/2|2, line 7: not read|3, line 10: not read|4, line 18: not read|5, line 20: e 1-0"
	if strings.Join(got, "|") != want {
		t.Errorf("got  %s\nwant %s", strings.Join(got, "|"), want)
	}
	if all := ReadPGNs(""); len(all) != 0 {
		t.Errorf("an empty text has %v", all)
	}
}

// Signs of who stands better and other ways to write a draw, as books have them.
func TestPGNReadsBookSigns(t *testing.T) {
	for _, text := range []string{
		"1. e4 e5 2. Nf3 N Nc6 += ½-½", "1. e4 e5 = 2. Nf3 ± Nc6 +- 1/2", "1. e4 e5 ∓ 2. Nf3 ⩲ Nc6 ∞ 1/2-1/2",
	} {
		games, err := ReadPGN(text)
		if err != nil || len(games) != 1 || len(games[0].Moves) != 4 || games[0].Outcome().Result != Draw {
			t.Errorf("%q: %d games, %v", text, len(games), err)
		}
	}
}

func TestPGNErrorsNameGameAndLine(t *testing.T) {
	for _, c := range []struct{ text, says string }{
		{"1. e4 e5\n2. Nf6 *", "game 1, line 2: move \"Nf6\" is not legal"},
		{"1. e4 *\n\n1. e4 {open", "game 2, line 3: the comment"},
		{"1. e4 (1. d4", "no )"},
		{"1. e4 -- 2. d4", "move \"--\""}, // a null move is no annotation: what follows would be wrong
		{"1. e4 ) e5", "out of place"},
		{"[Event \"x]\n", "closing quote"},
		{"[Event x]", `[Name "value"]`},
		{"[Event \"x\"", "closing ]"},
		{"[FEN \"8/8\"]\n\n*", "tag FEN"},
	} {
		_, err := ReadPGN(c.text)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q: %v; want %q", c.text, err, c.says)
		}
	}
}

func TestPGNLinesAreShort(t *testing.T) {
	g := NewGame(Start())
	for range 300 {
		p := g.Position()
		moves := p.LegalMoves(nil)
		if g.Push(moves[len(g.Moves)*7%len(moves)]) != nil {
			break
		}
	}
	for line := range strings.Lines(g.PGN()) {
		if len(line) > pgnColumns+1 {
			t.Errorf("%d characters: %s", len(line), line)
		}
	}
	back, err := ReadPGN(g.PGN())
	if err != nil || len(back) != 1 || len(back[0].Moves) != len(g.Moves) {
		t.Errorf("read back: %d games, %v", len(back), err)
	}
}

func FuzzPGN(f *testing.F) {
	f.Add(awkward)
	f.Add("1. e4 e5 2. Nf3 {x} $1 (2. f4) Nc6 1/2-1/2")
	f.Add("[FEN \"4k3/P7/8/8/8/8/8/4K3 b - - 5 12\"]\n*")
	f.Fuzz(func(t *testing.T, text string) {
		games, err := ReadPGN(text)
		if err != nil {
			return
		}
		var again strings.Builder
		for _, g := range games {
			again.WriteString(g.PGN())
		}
		back, err := ReadPGN(again.String())
		if err != nil || len(back) != len(games) {
			t.Fatalf("%d games of %q print as\n%s\nand read as %d (%v)", len(games), text, again.String(), len(back), err)
		}
		for i, g := range games {
			if back[i].PGN() != g.PGN() {
				t.Fatalf("printed:\n%s\nread and printed:\n%s", g.PGN(), back[i].PGN())
			}
		}
	})
}
