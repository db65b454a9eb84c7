// SPDX-License-Identifier: Apache-2.0

package search

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"boardhand/internal/chess"
)

// topNodes is what the strongest rung may look at for a move in a match, so that no
// clock decides; gateNodes a part of it, where time is short.
const topNodes, gateNodes = 50_000, 12_000

// longest is how many plies a game of a match may have; then it counts as drawn.
const longest = 240

// points is how a match went for the first of two.
type points struct{ won, drawn, lost int }

func (t points) games() int { return t.won + t.drawn + t.lost }

// share is the first one's share of all.
func (t points) share() float64 {
	return (float64(t.won) + float64(t.drawn)/2) / float64(t.games())
}

// elo is the difference of rating that a share of the points stands for by the
// logistic curve (A. E. Elo, The Rating of Chessplayers, 1978; from memory).
func elo(share float64) float64 { return -400 * math.Log10(1/share-1) }

// interval is where the share of the points lies at 95 %, by the spread of the
// single games.
func (t points) interval() (low, high float64) {
	n, p := float64(t.games()), t.share()
	spread := float64(t.won)*(1-p)*(1-p) + float64(t.drawn)*(0.5-p)*(0.5-p) + float64(t.lost)*p*p
	e := 1.96 * math.Sqrt(spread/n/n)
	return max(p-e, 0), min(p+e, 1)
}

func (t points) String() string {
	low, high := t.interval()
	return fmt.Sprintf("+%d =%d −%d  %.2f  Elo %+.0f [%+.0f, %+.0f]", t.won, t.drawn, t.lost, t.share(), elo(t.share()), elo(low), elo(high))
}

// arena is where rungs play each other.
type arena struct {
	t   *testing.T
	p   *Player
	rng *rand.Rand
	top uint64 // nodes of the strongest rung
}

// opening is a position after a few random moves that is about even.
func (a arena) opening() chess.Position {
	for {
		pos := chess.Start()
		for range 6 {
			moves := pos.LegalMoves(nil)
			pos = pos.After(moves[a.rng.IntN(len(moves))])
		}
		if len(pos.LegalMoves(nil)) > 0 && abs(think(a.t, a.p, pos.FEN(), Limits{Nodes: 4000}).ScoreCP) < 60 {
			return pos
		}
	}
}

// game plays one game of two rungs.
func (a arena) game(start chess.Position, rungs [2]Strength) chess.Result {
	g := chess.NewGame(start)
	for range longest {
		o := g.Outcome()
		switch {
		case o.Over():
			return o.Result
		case o.Claim != chess.NoReason:
			return chess.Draw
		}
		pos := g.Position()
		r, err := a.p.Play(a.t.Context(), At(g), Limits{Nodes: a.top}, rungs[pos.SideToMove()], a.rng)
		if err == nil {
			err = g.Push(r.Move)
		}
		if err != nil {
			a.t.Fatal(err)
		}
	}
	return chess.Draw
}

// match plays pairs of games, each pair from one opening with both colours.
func (a arena) match(one, other Strength, pairs int) (out points) {
	for range pairs {
		start := a.opening()
		for c := range chess.Color(2) {
			rungs := [2]Strength{other, other}
			rungs[c] = one
			switch a.game(start, rungs) {
			case chess.Draw:
				out.drawn++
			case chess.Wins(c):
				out.won++
			default:
				out.lost++
			}
		}
	}
	return out
}

// ladderPage is where the long match tells its scores.
const ladderPage = "../../docs/strength.md"

// Each rung beats the one below it. The gate plays a few games; with
// BOARDHAND_LONG=1 the match is long, and with BOARDHAND_ACCEPT=1 too it writes
// docs/strength.md.
func TestEachRungBeatsTheOneBelow(t *testing.T) {
	pairs, top := 2, uint64(2*gateNodes)
	isLong := os.Getenv("BOARDHAND_LONG") != ""
	switch {
	case underRace: // ten times as slow
		pairs, top = 1, gateNodes
	case isLong:
		pairs, top = 20, topNodes
	}
	var rows strings.Builder
	for i := 1; i < len(Ladder); i++ {
		a, b := Ladder[i], Ladder[i-1]
		t.Run(a.Name, func(t *testing.T) {
			got := arena{t, newTestPlayer(t), rand.New(rand.NewPCG(1, 26)), top}.match(a, b, pairs)
			t.Logf("%s – %s: %s", a.Name, b.Name, got)
			if got.won <= got.lost {
				t.Errorf("%s does not beat %s: %s", a.Name, b.Name, got)
			}
			rows.WriteString(got.row(a.Name, b.Name))
		})
	}
	if isLong && os.Getenv("BOARDHAND_ACCEPT") != "" && !t.Failed() {
		text := fmt.Sprintf(ladderText, 2*pairs, pairs, top) + rows.String()
		if err := os.WriteFile(ladderPage, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

const ladderText = `# How strongly the machine plays

Written by ` + "`BOARDHAND_LONG=1 BOARDHAND_ACCEPT=1 go test ./internal/search -run EachRung -timeout 2h`" + `.

Each rung of the ladder against the one below it, %d games in %d pairs: an opening of six random plies that is about even, once
with each colour. No clock is read; needle looks at %d positions a move, fewer than in a second on most computers.
A game counts as drawn when a draw could be claimed, or after 240 plies. Share: of the points. Elo: the difference of rating that it
stands for by the logistic curve (A. E. Elo, The Rating of Chessplayers, 1978; from memory), and between what it lies at 95 %%, by the
spread of the games. Between players of one family such differences come out larger than against people.

| rung | against | won | drawn | lost | share | Elo | from | to |
| --- | --- | --- | --- | --- | --- | --- | --- | --- |
`

// row is a match as a line of the page.
func (t points) row(a, b string) string {
	low, high := t.interval()
	bound := func(share float64) string {
		if share >= 1 {
			return "no bound"
		}
		return fmt.Sprintf("%+.0f", elo(share))
	}
	return fmt.Sprintf("| %s | %s | %d | %d | %d | %.2f | %s | %s | %s |\n", a, b, t.won, t.drawn, t.lost, t.share(), bound(t.share()), bound(low), bound(high))
}
