// SPDX-License-Identifier: Apache-2.0

package search

import (
	"context"
	"errors"
	"reflect"
	"strings"
	"testing"
	"time"

	"boardhand/internal/chess"
)

const busy = "r1bqkb1r/4npp1/p1p4p/1p1pP1B1/8/1B6/PPPN1PPP/R2Q1RK1 w kq - 0 1"

func TestThinkRefuses(t *testing.T) {
	p := newTestPlayer(t)
	for _, c := range []struct {
		fen  string
		lim  Limits
		says string
	}{
		{"R5k1/5ppp/8/8/8/8/8/4K3 b - - 0 1", Limits{Depth: 1}, "black is checkmated"},
		{"7k/8/6Q1/8/8/8/8/K7 b - - 0 1", Limits{Depth: 1}, "black is stalemated"},
		{busy, Limits{}, "how long"},
		{busy, Limits{Time: -1}, "not be negative"},
	} {
		_, err := p.Think(context.Background(), Root{Position: mustFEN(t, c.fen)}, c.lim)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s %+v: %v; want %q", c.fen, c.lim, err, c.says)
		}
	}
	if _, err := p.Think(context.Background(), Root{}, Limits{Depth: 1}); err == nil {
		t.Error("thinking about no position at all")
	}
}

func TestThinkStaysWithinItsLimits(t *testing.T) {
	p := newTestPlayer(t)
	for _, nodes := range []uint64{1, 2, 10, 100, 1000, 20000} {
		r := think(t, p, busy, Limits{Nodes: nodes})
		pos := mustFEN(t, busy)
		if r.Nodes > nodes || !pos.Legal(r.Move) {
			t.Errorf("%d nodes allowed: %d used, move %s", nodes, r.Nodes, r.Move)
		}
	}
	for depth := 1; depth <= 6; depth++ {
		if r := think(t, p, busy, Limits{Depth: depth}); r.Depth != depth {
			t.Errorf("depth %d asked, %d reached", depth, r.Depth)
		}
	}
}

// The same limits give the same answer, whatever was searched before.
func TestThinkIsTheSameEveryTime(t *testing.T) {
	a, b := newTestPlayer(t), newTestPlayer(t)
	think(t, b, "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1", Limits{Nodes: 5000})
	for _, lim := range []Limits{{Nodes: 30000}, {Depth: 6}, {Nodes: 777}} {
		one, two := think(t, a, busy, lim), think(t, b, busy, lim)
		one.Time, two.Time = 0, 0
		if !reflect.DeepEqual(one, two) {
			t.Errorf("%+v: %+v and %+v", lim, one, two)
		}
	}
}

// The best line is a line: it begins with the move, and every move is legal.
func TestBestLineIsLegal(t *testing.T) {
	p := newTestPlayer(t)
	for _, c := range mates {
		r := think(t, p, c.fen, Limits{Nodes: 20000})
		pos := mustFEN(t, c.fen)
		for _, m := range r.PV {
			if !pos.Legal(m) {
				t.Fatalf("%s: %v: %s is not legal", c.id, r.PV, m)
			}
			pos.Make(m)
		}
		if len(r.PV) == 0 || r.PV[0] != r.Move {
			t.Errorf("%s: move %s, line %v", c.id, r.Move, r.PV)
		}
	}
}

// countdown is a context that ends after it was asked a number of times.
type countdown struct {
	context.Context
	left int
}

func (c *countdown) Err() error {
	if c.left--; c.left < 0 {
		return context.Canceled
	}
	return nil
}

// When the context has ended, the player looks at no more positions than it
// does between two looks at the clock: about half a millisecond's work.
func TestThinkStopsWithinFewNodes(t *testing.T) {
	p := newTestPlayer(t)
	for _, looks := range []int{0, 1, 7, 30} {
		ctx := &countdown{context.Background(), looks}
		r, err := p.Think(ctx, Root{Position: mustFEN(t, busy)}, Limits{Depth: 50})
		pos := mustFEN(t, busy)
		if !errors.Is(err, context.Canceled) || !pos.Legal(r.Move) || r.Nodes > uint64(looks+1)*checkEvery {
			t.Errorf("ended at look %d: %d nodes, move %s, %v", looks, r.Nodes, r.Move, err)
		}
	}
}

// stopSlack is how late Think may come back by the clock. Its own part is below
// 5 ms (see above); the rest is a busy machine with few cores.
const stopSlack = time.Second

func TestThinkStopsWhenTold(t *testing.T) {
	p := newTestPlayer(t)
	ctx, cancel := context.WithCancel(context.Background())
	told := make(chan time.Time, 1)
	time.AfterFunc(30*time.Millisecond, func() { told <- time.Now(); cancel() })
	r, err := p.Think(ctx, Root{Position: mustFEN(t, busy)}, Limits{})
	late := time.Since(<-told)
	if !errors.Is(err, context.Canceled) || r.Move == 0 || late > stopSlack {
		t.Errorf("stopped after %v with %s, %v", late, r.Move, err)
	}
	t.Logf("came back %v after it was told", late)
	if r = think(t, p, busy, Limits{Time: 1}); r.Depth < 1 {
		t.Error("no time at all, and no considered move")
	}
	r = think(t, p, busy, Limits{Time: 50 * time.Millisecond})
	if r.Time > 50*time.Millisecond+stopSlack {
		t.Errorf("50 ms given: %v used, depth %d", r.Time, r.Depth)
	}
	t.Logf("50 ms given, %v used", r.Time)
}

func TestProgressIsToldAfterEveryDepth(t *testing.T) {
	p := newTestPlayer(t)
	var depths []int
	p.Progress = func(r Result) { depths = append(depths, r.Depth) }
	think(t, p, busy, Limits{Depth: 4})
	if !reflect.DeepEqual(depths, []int{1, 2, 3, 4}) {
		t.Errorf("told at depths %v", depths)
	}
}

// A queen against a rook is lost for the rook; but in this game one move brings
// the position about for the third time.
func TestThinkKnowsTheGameSoFar(t *testing.T) {
	p := newTestPlayer(t)
	g := chess.NewGame(mustFEN(t, "7k/8/8/8/8/8/q7/5R1K b - - 0 1"))
	for _, text := range strings.Fields("a2b2 f1e1 b2a2 e1f1 a2b2 f1e1 b2a2") {
		pos := g.Position()
		m, err := pos.ParseUCI(text)
		if err == nil {
			err = g.Push(m)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	r, err := p.Think(context.Background(), At(g), Limits{Nodes: 5000})
	if err != nil || r.Move.String() != "e1f1" || r.ScoreCP != drawn {
		t.Errorf("in the game: %s, %d centipawns, %v", r.Move, r.ScoreCP, err)
	}
	r, err = p.Think(context.Background(), Root{Position: g.Position()}, Limits{Nodes: 5000})
	if err != nil || r.ScoreCP > -200 {
		t.Errorf("without the game: %s, %d centipawns, %v", r.Move, r.ScoreCP, err)
	}
}

// passPlayed plays a game between two node limits and says how it ended.
func passPlayed(t *testing.T, strong, weak uint64, strongSide chess.Color) chess.Outcome {
	t.Helper()
	p, g := newTestPlayer(t), chess.NewGame(chess.Start())
	for range 240 {
		if g.Outcome().Over() {
			break
		}
		pos := g.Position()
		nodes := weak
		if pos.SideToMove() == strongSide {
			nodes = strong
		}
		r, err := p.Think(context.Background(), At(g), Limits{Nodes: nodes})
		if err != nil {
			t.Fatal(err)
		}
		if err := g.Push(r.Move); err != nil {
			t.Fatal(err)
		}
	}
	return g.Outcome()
}

// More nodes play better: 4000 against 40, each side once.
func TestNodesAreStrength(t *testing.T) {
	for c := range chess.Color(2) {
		if o := passPlayed(t, 4000, 40, c); o.Result != chess.Wins(c) {
			t.Errorf("4000 nodes as %s against 40: %s", c, o)
		}
	}
}

// Whatever position is given, thinking about it ends with a legal move.
func FuzzThink(f *testing.F) {
	f.Add(busy, uint16(300))
	f.Add("QQQQQQQQ/Q6K/8/8/8/8/8/k1qqqqqq w - - 0 1", uint16(900))
	f.Add("8/8/4k3/4p3/4P3/4K3/8/8 w - - 99 200", uint16(900))
	f.Fuzz(func(t *testing.T, fen string, nodes uint16) {
		pos, err := chess.ParseFEN(fen)
		if err != nil {
			return
		}
		p := Player{memory: memoryOf(64)}
		r, err := p.Think(context.Background(), Root{Position: pos}, Limits{Nodes: uint64(nodes%1000) + 1})
		if err == nil && !pos.Legal(r.Move) {
			t.Fatalf("%q: %s is not legal", fen, r.Move)
		}
	})
}
