// SPDX-License-Identifier: Apache-2.0

package search

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/golden"
)

// goldenNodes is how many positions are looked at for each task.
const goldenNodes = 40_000

// task is a position with moves that are known to be best; several where they
// are as good, none where the whole point is the score.
type task struct{ id, fen, best string }

// ownTactics are made for this test: each has one move that wins by force, as
// the words beside it say.
var ownTactics = []task{
	{"fork of king and rook", "r3k3/ppp2ppp/8/3N4/8/8/PPP2PPP/4K3 w q - 0 1", "d5c7"},
	{"mate on the last row", "6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1", "d1d8"},
	{"queen behind the king", "q7/5ppp/2k5/8/8/8/4BPPP/6K1 w - - 0 1", "e2f3"},
	{"pinned queen", "4k3/pp1q1ppp/8/8/P7/8/1PP1BPPP/R5K1 w - - 0 1", "e2b5"},
	{"smothered in four", "r6k/6pp/8/6N1/2Q5/8/6PP/6K1 w - - 0 1", "g5f7"},
	{"queen let go for a mate", "rn1qkbnr/1pp2ppp/p2p4/4p2b/2B1P3/2N2N1P/PPPP1PP1/R1BQK2R w KQkq - 0 6", "f3e5"},
	{"rook behind the knight", "3qk3/8/8/3N2P1/8/8/8/3RK3 w - - 0 1", "d5f6"},
	{"one move from stalemate", "7k/5Q2/8/8/8/8/8/K7 w - - 0 1", ""},
}

// endings are known from the books, or decided by counting.
var endings = []task{
	{"R. Réti 1921", "7K/8/k1P5/7p/8/8/8/8 w - - 0 1", "h8g7"},
	{"F. Saavedra 1895", "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1", "c6c7"},
	{"E. Lasker and G. Reichhelm 1901, no. 70 in R. Fine, Basic Chess Endings (1941)", "8/k7/3p4/p2P1p2/P2P1P2/8/8/K7 w - - 0 1", "a1b1"},
	{"A. Salvio 1634, the bridge", "1K1k4/1P6/8/8/8/8/r7/2R5 w - - 0 1", "c1d1"},
	{"A.-D. Philidor 1777, the third rank", "4k3/R7/8/3PK3/8/1r6/8/8 b - - 0 1", "b3b6"},
	{"pawn alone, opposition won", "4k3/8/4K3/4P3/8/8/8/8 w - - 0 1", ""},
	{"pawn alone, opposition lost", "8/8/8/4k3/4P3/4K3/8/8 w - - 0 1", ""},
	{"pawn outruns the king", "8/8/8/8/P6k/8/8/7K w - - 0 1", "a4a5"},
	{"queen against king", "8/8/8/3k4/8/8/8/QK6 w - - 0 1", ""},
	{"rook against king", "8/8/8/3k4/8/8/8/RK6 w - - 0 1", ""},
	{"two bishops against king", "8/8/8/3k4/8/8/8/BBK5 w - - 0 1", ""},
	{"bishop and knight against king", "8/8/8/3k4/8/8/8/BNK5 w - - 0 1", ""},
	{"bishop of the wrong colour", "k7/8/8/8/8/P7/1B6/K7 w - - 0 1", ""},
	{"bishops of opposite colours", "4k3/3b4/p7/P7/4P3/4B3/8/4K3 w - - 0 1", ""},
	{"knight alone", "4k3/8/8/8/8/8/8/N3K3 w - - 0 1", ""},
	{"fifty moves are near", "8/8/8/3k4/8/8/8/RK6 w - - 90 80", ""},
}

// published are the mates and the suite of the other tests as tasks.
func published(t *testing.T) (out []task) {
	t.Helper()
	for _, m := range mates {
		out = append(out, task{m.id + fmt.Sprintf(", mate in %d", m.in), m.fen, m.move})
	}
	for line := range strings.Lines(strings.TrimSpace(bratkoKopec)) {
		e, err := chess.ParseEPD(line)
		if err != nil {
			t.Fatal(err)
		}
		var best []string
		for _, m := range e.Best {
			best = append(best, m.String())
		}
		out = append(out, task{e.ID, e.Position.FEN(), strings.Join(best, " ")})
	}
	return out
}

// How soon fixed tasks are solved, as text: a search that got weaker or looks
// at more positions for the same shows as a difference.
func TestGoldenSearch(t *testing.T) {
	if underRace {
		t.Skip("the same numbers, ten times slower")
	}
	var b strings.Builder
	var all tally
	for _, group := range []struct {
		name  string
		tasks []task
	}{{"published", published(t)}, {"own tactics", ownTactics}, {"endings", endings}} {
		var sum tally
		fmt.Fprintf(&b, "%s, %d positions looked at for each\n", group.name, goldenNodes)
		for _, c := range group.tasks {
			sum.add(solve(t, &b, c))
		}
		fmt.Fprintf(&b, "  = %v\n\n", sum)
		all.add(sum)
	}
	fmt.Fprintf(&b, "all\n  = %v\n", all)
	golden.Compare(t, "search.txt", b.String())
}

// tally is how many tasks have a best move, how many were solved, at what cost.
type tally struct {
	tasks, solved, depths int
	nodes                 uint64 // until solved
}

func (a *tally) add(b tally) {
	a.tasks, a.solved, a.depths, a.nodes = a.tasks+b.tasks, a.solved+b.solved, a.depths+b.depths, a.nodes+b.nodes
}

func (a tally) String() string {
	return fmt.Sprintf("%d of %d solved, after %d positions altogether; depths add up to %d", a.solved, a.tasks, a.nodes, a.depths)
}

// solve writes down what is found, and from which depth on it was the best
// move without a break.
func solve(t *testing.T, b *strings.Builder, c task) (sum tally) {
	t.Helper()
	p := newTestPlayer(t)
	best, from := strings.Fields(c.best), Result{}
	hit := func(r Result) bool {
		for _, m := range best {
			if m == r.Move.String() {
				return true
			}
		}
		return false
	}
	p.Progress = func(r Result) {
		switch {
		case !hit(r):
			from = Result{}
		case from.Depth == 0:
			from = r
		}
	}
	r := think(t, p, c.fen, Limits{Nodes: goldenNodes})
	words := "no move asked for"
	if len(best) > 0 {
		sum.tasks, words = 1, "not solved, wants "+c.best
		if hit(r) && from.Depth > 0 {
			words = fmt.Sprintf("solved at depth %d after %d", from.Depth, from.Nodes)
			sum.solved, sum.nodes = 1, from.Nodes
		}
	}
	sum.depths = r.Depth
	fmt.Fprintf(b, "  %s: %s %s, depth %d, %d positions; %s\n", c.id, r.Move, scoreText(r), r.Depth, r.Nodes, words)
	return sum
}

// scoreText is a score as text.
func scoreText(r Result) string {
	if r.Mate != 0 {
		return fmt.Sprintf("mate %+d", r.Mate)
	}
	return fmt.Sprintf("%+d cp", r.ScoreCP)
}

// The same task takes the same positions with a fresh and a used memory: the
// text above does not depend on what ran before.
func TestGoldenSearchDoesNotDependOnOrder(t *testing.T) {
	p := newTestPlayer(t)
	var first [2]Result
	for round := range 2 {
		for i, c := range ownTactics[:2] {
			r, err := p.Think(context.Background(), Root{Position: mustFEN(t, c.fen)}, Limits{Depth: 5})
			if err != nil {
				t.Fatal(err)
			}
			if round > 0 && (r.Nodes != first[i].Nodes || r.Move != first[i].Move || r.ScoreCP != first[i].ScoreCP) {
				t.Errorf("%s: %d positions, then %d", c.id, first[i].Nodes, r.Nodes)
			}
			first[i] = r
		}
	}
}
