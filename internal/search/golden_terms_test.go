// SPDX-License-Identifier: Apache-2.0

package search

import (
	"fmt"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/golden"
)

// valued are positions in which each term of the evaluation has something to say.
var valued = []struct{ name, fen string }{
	{"start", "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"},
	{"open game", "r1bqk2r/pppp1ppp/2n2n2/2b1p3/2B1P3/5N2/PPPP1PPP/RNBQ1RK1 b kq - 0 5"},
	{"king in the middle", "r1bq1rk1/ppp2ppp/2n2n2/3p4/1b1P4/2N1PN2/PP3PPP/R1BQKB1R w KQ - 0 8"},
	{"attack on the king", "r1bq1rk1/pp3p1p/2n1p1pQ/3p2N1/3P4/2PB4/PP3PPP/R3R1K1 b - - 0 15"},
	{"bare king, queens off", "6k1/8/8/8/3R4/8/5PPP/6K1 w - - 0 40"},
	{"doubled and isolated pawns", "4k3/p1p2ppp/8/8/8/2P5/P1P2PPP/4K3 w - - 0 1"},
	{"passed pawns, one blocked", "8/1k6/1n6/1P6/6p1/5K2/P7/8 w - - 0 1"},
	{"pawn chain", "4k3/5p2/4p3/3pP3/3P4/2P5/1P6/4K3 b - - 0 1"},
	{"outpost", "r4rk1/pp3ppp/3p4/3Np3/4P3/8/PP3PPP/R4RK1 w - - 0 1"},
	{"rooks on open and half-open files", "3r2k1/p4ppp/8/8/8/8/P4PPP/1R1R2K1 w - - 0 1"},
	{"two bishops against two knights", "4k3/ppp2ppp/2n2n2/8/8/2B2B2/PPP2PPP/4K3 w - - 0 1"},
	{"queen against two rooks", "3rr1k1/5ppp/8/8/8/8/5PPP/3Q2K1 w - - 0 1"},
	{"minor alone does not win", "4k3/8/8/8/8/8/8/B3K3 w - - 0 1"},
	{"bishops of opposite colours", "4k3/3b4/p7/P7/4P3/4B3/8/4K3 w - - 0 1"},
	{"bishop of the wrong colour", "k7/8/8/8/8/P7/1B6/K7 w - - 0 1"},
	{"hunt with a queen", "8/8/8/3k4/8/8/8/QK6 b - - 0 1"},
	{"hunt with bishop and knight", "8/8/8/3k4/8/8/8/BNK5 w - - 0 1"},
}

// The terms of the evaluation of fixed positions, as text.
func TestGoldenTerms(t *testing.T) {
	var b strings.Builder
	for _, c := range valued {
		pos := mustFEN(t, c.fen)
		fmt.Fprintf(&b, "%s: %s\n", c.name, c.fen)
		if v, ok := hunt(&pos); ok {
			fmt.Fprintf(&b, "  hunt %+d\n", v)
		}
		terms(&b, &pos)
		fmt.Fprintf(&b, "  = %+d cp for the side to move\n\n", evaluate(&pos))
	}
	golden.Compare(t, "terms.txt", b.String())
}

// terms writes each term down, in the middle game and in the endgame.
func terms(b *strings.Builder, pos *chess.Position) {
	var e evaluation
	e.survey(pos)
	var pieces [2]taper
	for c := range chess.Color(2) { // both before the kings' safety, which counts their blows
		pieces[c] = e.pieces(pos, c)
	}
	var total [2]taper
	for c := range chess.Color(2) {
		pawns, shelter, danger, officers := e.pawns(pos, c), e.shelter(pos, c), e.danger(pos, c), e.officers(pos, c)
		total[c] = pieces[c].plus(pawns).plus(shelter).plus(taper{mid: -danger})
		fmt.Fprintf(b, "  %-5v pieces %v (of it pairs, files and outposts %v), pawns %v, shelter %v, danger %d: %v\n",
			c, pieces[c], officers, pawns, shelter, danger, total[c])
	}
	diff := total[chess.White].minus(total[chess.Black])
	fmt.Fprintf(b, "  White ahead by %v, phase %d of %d, in all %+d, scaled to %+d\n", diff, e.phase, fullPhase,
		tapered(diff, e.phase), scale(pos, tapered(diff, e.phase)))
}

// tapered is a value between its two ends.
func tapered(v taper, phase int) int {
	phase = min(phase, fullPhase)
	return (v.mid*phase + v.end*(fullPhase-phase)) / fullPhase
}

// Where nothing is hunted the terms written down are those that count.
func TestTermsAddUp(t *testing.T) {
	for _, c := range valued {
		pos := mustFEN(t, c.fen)
		if _, ok := hunt(&pos); ok {
			continue
		}
		var b strings.Builder
		terms(&b, &pos)
		var scaled int
		words := strings.Fields(b.String())
		if _, err := fmt.Sscan(words[len(words)-1], &scaled); err != nil {
			t.Fatal(err)
		}
		if pos.SideToMove() == chess.Black {
			scaled = -scaled
		}
		if got := evaluate(&pos); got != scaled+tempo {
			t.Errorf("%s: the terms come to %d, the evaluation says %d", c.name, scaled+tempo, got)
		}
	}
}
