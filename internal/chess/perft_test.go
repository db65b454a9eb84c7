// SPDX-License-Identifier: Apache-2.0

package chess

import (
	"os"
	"testing"
)

// perftCase is a line of the perft table: the Chess Programming Wiki's page
// "Perft Results"; the start position also OEIS A048987.
type perftCase struct {
	name, fen string
	nodes     []uint64 // for depth 1, 2, …
}

const kiwipete = "r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1"

var perftCases = []perftCase{
	{"1 start", startFEN, []uint64{20, 400, 8902, 197281, 4865609, 119060324}},
	{"2 Kiwipete", kiwipete, []uint64{48, 2039, 97862, 4085603, 193690690, 8031647685}},
	{"3", "8/2p5/3p4/KP5r/1R3p1k/8/4P1P1/8 w - - 0 1", []uint64{14, 191, 2812, 43238, 674624, 11030083}},
	{"4", "r3k2r/Pppp1ppp/1b3nbN/nP6/BBP1P3/q4N2/Pp1P2PP/R2Q1RK1 w kq - 0 1", []uint64{6, 264, 9467, 422333, 15833292, 706045033}},
	{"4 mirrored", "r2q1rk1/pP1p2pp/Q4n2/bbp1p3/Np6/1B3NBn/pPPP1PPP/R3K2R b KQ - 0 1", []uint64{6, 264, 9467, 422333, 15833292, 706045033}},
	{"5", "rnbq1k1r/pp1Pbppp/2p5/8/2B5/8/PPP1NnPP/RNBQK2R w KQ - 1 8", []uint64{44, 1486, 62379, 2103487, 89941194}},
	{"6", "r4rk1/1pp1qppp/p1np1n2/2b1p1B1/2B1P1b1/P1NP1N2/1PP1QPPP/R4RK1 w - - 0 10", []uint64{46, 2079, 89890, 3894594, 164075551, 6923051137}},
}

// mostLeaves is how many leaves a test counts at most in one go: all depths up
// to 5 in about three seconds, less under the race detector, which is about ten
// times slower. BOARDHAND_LONG=1 counts everything, which takes minutes.
func mostLeaves() uint64 {
	switch {
	case os.Getenv("BOARDHAND_LONG") != "":
		return 1 << 63
	case underRace:
		return 5e6
	}
	return 200e6
}

func mustFEN(t testing.TB, fen string) Position {
	t.Helper()
	p, err := ParseFEN(fen)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestPerftTable(t *testing.T) {
	for _, c := range perftCases {
		p := mustFEN(t, c.fen)
		for i, want := range c.nodes {
			if want > mostLeaves() {
				break
			}
			if got := p.Perft(i + 1); got != want {
				t.Errorf("position %s depth %d: %d leaves, want %d", c.name, i+1, got, want)
			}
		}
	}
}

// leafCount counts what kind of move leads to each leaf.
type leafCount struct {
	captures, passant, castles, promotions, checks, mates int
}

func (n *leafCount) walk(p *Position, depth int) {
	for _, m := range p.LegalMoves(nil) {
		if depth == 1 {
			n.leaf(p, m)
		}
		u := p.Make(m)
		if depth > 1 {
			n.walk(p, depth-1)
		} else if p.InCheck() {
			n.checks++
			if !p.hasMove() {
				n.mates++
			}
		}
		p.Unmake(m, u)
	}
}

func (n *leafCount) leaf(p *Position, m Move) {
	taken, at := p.Captured(m)
	if taken != NoPiece {
		n.captures++
		if at != m.To() {
			n.passant++
		}
	}
	if p.IsCastling(m) {
		n.castles++
	}
	if m.Promotion() != NoKind {
		n.promotions++
	}
}

// The figures of positions 1 to 4 are on the same page as the perft table;
// those of 5 and 6 were computed independently with a mailbox generator.
func TestLeafStatistics(t *testing.T) {
	for _, c := range []struct {
		position, depth int
		want            leafCount
	}{
		{0, 4, leafCount{1576, 0, 0, 0, 469, 8}},
		{1, 3, leafCount{17102, 45, 3162, 0, 993, 1}},
		{1, 4, leafCount{757163, 1929, 128013, 15172, 25523, 43}},
		{2, 4, leafCount{3348, 123, 0, 0, 1680, 17}},
		{3, 4, leafCount{131393, 0, 7795, 60032, 15492, 5}},
		{5, 4, leafCount{296153, 0, 0, 0, 158486, 240}},
		{6, 4, leafCount{440388, 0, 0, 0, 68985, 0}},
	} {
		if underRace && perftCases[c.position].nodes[c.depth-1] > 500e3 {
			continue
		}
		p := mustFEN(t, perftCases[c.position].fen)
		var got leafCount
		if got.walk(&p, c.depth); got != c.want {
			t.Errorf("position %s depth %d: %+v, want %+v", perftCases[c.position].name, c.depth, got, c.want)
		}
	}
	p := mustFEN(t, perftCases[3].fen)
	var n leafCount
	if n.walk(&p, 3); n.passant != 4 || n.promotions != 120 || n.checks != 38 || n.mates != 22 {
		t.Errorf("position 4 depth 3: %+v", n)
	}
}

// After every move the key is what it is from scratch, and Unmake restores all.
func TestMakeAndUnmakeKeepTheWholePosition(t *testing.T) {
	var walk func(p *Position, depth int)
	walk = func(p *Position, depth int) {
		for _, m := range p.LegalMoves(nil) {
			before := *p
			u := p.Make(m)
			if p.key != p.computeKey() {
				t.Fatalf("%s after %s: key %x, from scratch %x", before.FEN(), m, p.key, p.computeKey())
			}
			again, err := ParseFEN(p.FEN())
			if err != nil || again != *p {
				t.Fatalf("%s after %s: FEN %s reads back differently (%v)", before.FEN(), m, p.FEN(), err)
			}
			if depth > 1 {
				walk(p, depth-1)
			}
			if p.Unmake(m, u); *p != before {
				t.Fatalf("%s: taking back %s gives %s", before.FEN(), m, p.FEN())
			}
		}
	}
	for _, c := range perftCases {
		p := mustFEN(t, c.fen)
		walk(&p, 2)
	}
}

func TestNoisyMovesAreTheCapturesAndPromotions(t *testing.T) {
	var walk func(p *Position, depth int)
	walk = func(p *Position, depth int) {
		want, got := map[Move]bool{}, map[Move]bool{}
		for _, m := range p.LegalMoves(nil) {
			if taken, _ := p.Captured(m); taken != NoPiece || m.Promotion() != NoKind {
				want[m] = true
			}
		}
		for _, m := range p.NoisyMoves(nil) {
			if got[m] = true; !want[m] {
				t.Fatalf("%s: %s is not noisy", p.FEN(), m)
			}
		}
		if len(got) != len(want) {
			t.Fatalf("%s: noisy %v, want %v", p.FEN(), got, want)
		}
		for _, m := range p.LegalMoves(nil) {
			if depth > 1 {
				u := p.Make(m)
				walk(p, depth-1)
				p.Unmake(m, u)
			}
		}
	}
	for _, c := range perftCases {
		p := mustFEN(t, c.fen)
		walk(&p, 3)
	}
}
