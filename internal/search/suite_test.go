// SPDX-License-Identifier: Apache-2.0

package search

import (
	"context"
	"os"
	"strings"
	"testing"

	"boardhand/internal/chess"
)

func mustFEN(t testing.TB, fen string) chess.Position {
	t.Helper()
	p, err := chess.ParseFEN(fen)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func newTestPlayer(t testing.TB) *Player {
	t.Helper()
	p, err := NewPlayer(16)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func think(t testing.TB, p *Player, fen string, lim Limits) Result {
	t.Helper()
	r, err := p.Think(context.Background(), Root{Position: mustFEN(t, fen)}, lim)
	if err != nil {
		t.Fatalf("%s: %v", fen, err)
	}
	return r
}

// Mates from F. Reinfeld, Win at Chess (1958), by the numbers of the Chess
// Programming Wiki's list, and the first position of Bratko and Kopec. That
// the move alone mates in that number was proved by exhaustive search with a
// separate generator.
var mates = []struct {
	id, fen, move string
	in            int
}{
	{"WAC.001", "2rr3k/pp3pp1/1nnqbN1p/3pN3/2pP4/2P3Q1/PPB4P/R4RK1 w - - 0 1", "g3g6", 2},
	{"WAC.004", "r1bq2rk/pp3pbp/2p1p1pQ/7P/3P4/2PB1N2/PP3PPR/2KR4 w - - 0 1", "h6h7", 2},
	{"WAC.005", "5k2/6pp/p1qN4/1p1p4/3P4/2PKP2Q/PP3r2/3R4 b - - 0 1", "c6c4", 2},
	{"WAC.012", "4k1r1/2p3r1/1pR1p3/3pP2p/3P2qP/P4N2/1PQ4P/5R1K b - - 0 1", "g4f3", 2},
	{"WAC.027", "7k/pp4np/2p3p1/3pN1q1/3P4/Q7/1r3rPP/2R2RK1 w - - 0 1", "a3f8", 2},
	{"WAC.054", "r3kr2/1pp4p/1p1p4/7q/4P1n1/2PP2Q1/PP4P1/R1BB2K1 b q - 0 1", "h5h1", 2},
	{"WAC.060", "rn1qr1k1/1p2np2/2p3p1/8/1pPb4/7Q/PB1P1PP1/2KR1B1R w - - 0 1", "h3h8", 2},
	{"WAC.061", "3qrbk1/ppp1r2n/3pP2p/3P4/2P4P/1P3Q2/PB6/R4R1K w - - 0 1", "f3f7", 2},
	{"WAC.084", "r2q1r1k/2p1b1pp/p1n5/1p1Q1bN1/4n3/1BP1B3/PP3PPP/R4RK1 w - - 0 1", "d5g8", 2},
	{"WAC.057", "r3q1kr/ppp5/3p2pQ/8/3PP1b1/5R2/PPP3P1/5RK1 w - - 0 1", "f3f8", 3},
	{"WAC.079", "r3k2r/pbp2pp1/3b1n2/1p6/3P3p/1B2N1Pq/PP1PQP1P/R1B2RK1 b kq - 0 1", "h3h2", 3},
	{"BK.01", "1k1r4/pp1b1R2/3q2pp/4p3/2B5/4Q3/PPP2B2/2K5 b - - 0 1", "d6d1", 3},
}

// mateNodes is enough for every mate of the list several times over.
const mateNodes = 300_000

func TestMatesAreFoundWithTheirLength(t *testing.T) {
	p := newTestPlayer(t)
	for _, c := range mates {
		r := think(t, p, c.fen, Limits{Nodes: mateNodes})
		if r.Move.String() != c.move || r.Mate != c.in {
			t.Errorf("%s: %s, mate in %d; want %s in %d (depth %d, %d nodes)", c.id, r.Move, r.Mate, c.move, c.in, r.Depth, r.Nodes)
		}
		t.Logf("%s %s mate %d: depth %d, %d nodes, %v", c.id, r.Move, r.Mate, r.Depth, r.Nodes, r.Time)
	}
}

// bratkoKopec is I. Bratko, D. Kopec, A Test for Comparison of Human and
// Computer Performance in Chess, Advances in Computer Chess 3 (1982); the list
// from the Chess Programming Wiki. The moves are the authors' judgement.
const bratkoKopec = `
1k1r4/pp1b1R2/3q2pp/4p3/2B5/4Q3/PPP2B2/2K5 b - - bm Qd1+; id "BK.01";
3r1k2/4npp1/1ppr3p/p6P/P2PPPP1/1NR5/5K2/2R5 w - - bm d5; id "BK.02";
2q1rr1k/3bbnnp/p2p1pp1/2pPp3/PpP1P1P1/1P2BNNP/2BQ1PRK/7R b - - bm f5; id "BK.03";
rnbqkb1r/p3pppp/1p6/2ppP3/3N4/2P5/PPP1QPPP/R1B1KB1R w KQkq - bm e6; id "BK.04";
r1b2rk1/2q1b1pp/p2ppn2/1p6/3QP3/1BN1B3/PPP3PP/R4RK1 w - - bm Nd5 a4; id "BK.05";
2r3k1/pppR1pp1/4p3/4P1P1/5P2/1P4K1/P1P5/8 w - - bm g6; id "BK.06";
1nk1r1r1/pp2n1pp/4p3/q2pPp1N/b1pP1P2/B1P2R2/2P1B1PP/R2Q2K1 w - - bm Nf6; id "BK.07";
4b3/p3kp2/6p1/3pP2p/2pP1P2/4K1P1/P3N2P/8 w - - bm f5; id "BK.08";
2kr1bnr/pbpq4/2n1pp2/3p3p/3P1P1B/2N2N1Q/PPP3PP/2KR1B1R w - - bm f5; id "BK.09";
3rr1k1/pp3pp1/1qn2np1/8/3p4/PP1R1P2/2P1NQPP/R1B3K1 b - - bm Ne5; id "BK.10";
2r1nrk1/p2q1ppp/bp1p4/n1pPp3/P1P1P3/2PBB1N1/4QPPP/R4RK1 w - - bm f4; id "BK.11";
r3r1k1/ppqb1ppp/8/4p1NQ/8/2P5/PP3PPP/R3R1K1 b - - bm Bf5; id "BK.12";
r2q1rk1/4bppp/p2p4/2pP4/3pP3/3Q4/PP1B1PPP/R3R1K1 w - - bm b4; id "BK.13";
rnb2r1k/pp2p2p/2pp2p1/q2P1p2/8/1Pb2NP1/PB2PPBP/R2Q1RK1 w - - bm Qd2 Qe1; id "BK.14";
2r3k1/1p2q1pp/2b1pr2/p1pp4/6Q1/1P1PP1R1/P1PN2PP/5RK1 w - - bm Qxg7+; id "BK.15";
r1bqkb1r/4npp1/p1p4p/1p1pP1B1/8/1B6/PPPN1PPP/R2Q1RK1 w kq - bm Ne4; id "BK.16";
r2q1rk1/1ppnbppp/p2p1nb1/3Pp3/2P1P1P1/2N2N1P/PPB1QP2/R1B2RK1 b - - bm h5; id "BK.17";
r1bq1rk1/pp2ppbp/2np2p1/2n5/P3PP2/N1P2N2/1PB3PP/R1B1QRK1 b - - bm Nb3; id "BK.18";
3rr3/2pq2pk/p2p1pnp/8/2QBPP2/1P6/P5PP/4RRK1 b - - bm Rxe4; id "BK.19";
r4k2/pb2bp1r/1p1qp2p/3pNp2/3P1P2/2N3P1/PPP1Q2P/2KRR3 w - - bm g4; id "BK.20";
3rn2k/ppb2rpp/2ppqp2/5N2/2P1P3/1P5Q/PB3PPP/3RR1K1 w - - bm Nh6; id "BK.21";
2r2rk1/1bqnbpp1/1p1ppn1p/pP6/N1P1P3/P2B1N1P/1B2QPP1/R2R2K1 b - - bm Bxe4; id "BK.22";
r1bqk2r/pp2bppp/2p5/3pP3/P2Q1P2/2N1B3/1PP3PP/R4RK1 b kq - bm f6; id "BK.23";
r2qnrnk/p2b2b1/1p1p2pp/2pPpp2/1PP1P3/PRNBB3/3QNPPP/5RK1 w - - bm f4; id "BK.24";
`

// suiteNodes is how much is looked at for each position of the suite: it takes
// a few seconds altogether, also under the race detector.
func suiteNodes() uint64 {
	if underRace {
		return 15_000
	}
	if os.Getenv("BOARDHAND_LONG") != "" {
		return 1_000_000
	}
	return 60_000
}

func TestBratkoKopec(t *testing.T) {
	p := newTestPlayer(t)
	solved, total := 0, 0
	for line := range strings.Lines(strings.TrimSpace(bratkoKopec)) {
		e, err := chess.ParseEPD(line)
		if err != nil {
			t.Fatal(err)
		}
		total++
		r := think(t, p, e.Position.FEN(), Limits{Nodes: suiteNodes()})
		hit := false
		for _, m := range e.Best {
			hit = hit || m == r.Move
		}
		if hit {
			solved++
		} else if e.ID == "BK.01" {
			t.Errorf("BK.01, a mate in 3, is missed: %s", r.Move)
		}
		t.Logf("%s %v: %s, %d cp, depth %d, %v", e.ID, hit, e.Position.SAN(r.Move), r.ScoreCP, r.Depth, r.Time)
	}
	t.Logf("solved %d of %d with %d nodes a position", solved, total, suiteNodes())
}
