package uci

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"boardhand/internal/chess"
)

// The test binary itself is the outside player: it speaks the protocol as its
// document describes it, in the manner that UCI_MANNER names.
func TestMain(m *testing.M) {
	if manner := os.Getenv("UCI_MANNER"); manner != "" {
		behave(manner)
		os.Exit(0)
	}
	os.Exit(m.Run())
}

func behave(manner string) {
	game := chess.NewGame(chess.Start())
	s := bufio.NewScanner(os.Stdin)
	for s.Scan() {
		f := strings.Fields(s.Text())
		switch {
		case manner == "dumb":
		case f[0] == "uci":
			fmt.Print("id name A Stranger\nid author nobody\noption name Ponder type check default false\nuciok\n")
		case f[0] == "isready":
			fmt.Println("readyok")
		case f[0] == "position":
			game = placed(f)
		case f[0] == "go" && manner == "dies":
			return
		case f[0] == "go" && manner == "cheats":
			fmt.Println("bestmove e2e5")
		case f[0] == "go" && manner != "muses":
			fmt.Print("info string hello depth 99\ninfo depth 3 seldepth 9 multipv 1 score cp -17 nodes 1234 nps 5 pv ", last(game), " x\n")
			fmt.Println("bestmove", last(game), "ponder e2e4")
		case f[0] == "stop":
			fmt.Println("bestmove", last(game))
		case f[0] == "quit":
			return
		}
	}
}

func placed(f []string) *chess.Game {
	pos, err := chess.ParseFEN(strings.Join(f[2:8], " "))
	if err != nil {
		panic(err)
	}
	g := chess.NewGame(pos)
	for i := 9; i < len(f); i++ {
		now := g.Position()
		m, err := now.ParseUCI(f[i])
		if err != nil {
			panic(err)
		}
		if err := g.Push(m); err != nil {
			panic(err)
		}
	}
	return g
}

// last is the last of the legal moves.
func last(g *chess.Game) chess.Move {
	pos := g.Position()
	moves := pos.LegalMoves(nil)
	return moves[len(moves)-1]
}

func stranger(t *testing.T, manner string) (*Player, error) {
	t.Helper()
	t.Setenv("UCI_MANNER", manner)
	p, err := Start(t.Context(), os.Args[0])
	if err == nil {
		t.Cleanup(p.Close)
	}
	return p, err
}

func TestThink(t *testing.T) {
	p, err := stranger(t, "plain")
	if err != nil {
		t.Fatal(err)
	}
	g := chess.NewGame(chess.Start())
	for range 6 {
		th, err := p.Think(t.Context(), g, Limits{Time: time.Second, Depth: 3, Nodes: 10})
		if err != nil {
			t.Fatal(err)
		}
		if th.Move != last(g) || th.ScoreCP != -17 || th.Depth != 3 || th.Nodes != 1234 || len(th.PV) != 1 {
			t.Fatalf("thought %+v, want move %s", th, last(g))
		}
		if err := g.Push(th.Move); err != nil {
			t.Fatal(err)
		}
	}
	if p.Name != "A Stranger" {
		t.Errorf("name %q", p.Name)
	}
}

func TestStopGivesAMoveAndTheContextsError(t *testing.T) {
	p, err := stranger(t, "muses")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(t.Context(), 50*time.Millisecond)
	defer cancel()
	g := chess.NewGame(chess.Start())
	th, err := p.Think(ctx, g, Limits{Depth: 99})
	if !errors.Is(err, context.DeadlineExceeded) || th.Move != last(g) {
		t.Errorf("stopped thought: %s, %v", th.Move, err)
	}
}

func TestBadPlayers(t *testing.T) {
	if _, err := Start(t.Context(), " "); err == nil {
		t.Error("an empty command was accepted")
	}
	if _, err := Start(t.Context(), "/nowhere/player"); err == nil || !strings.Contains(err.Error(), "cannot be started") {
		t.Errorf("a missing program: %v", err)
	}
	for manner, want := range map[string]string{"dies": "ended by itself", "cheats": "answered e2e5"} {
		p, err := stranger(t, manner)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := p.Think(t.Context(), chess.NewGame(chess.Start()), Limits{Depth: 1}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", manner, err)
		}
		if _, err := p.Think(t.Context(), chess.NewGame(chess.Start()), Limits{}); err == nil {
			t.Error("a thought without limits was begun")
		}
	}
	ctx, cancel := context.WithTimeout(t.Context(), 100*time.Millisecond)
	defer cancel()
	t.Setenv("UCI_MANNER", "dumb")
	if _, err := Start(ctx, os.Args[0]); err == nil {
		t.Error("a player that never says uciok was accepted")
	}
}

func FuzzNote(f *testing.F) {
	f.Add("depth 3 score cp 5 pv e2e4 e7e5")
	f.Add("score mate -2 nodes x depth")
	f.Fuzz(func(t *testing.T, s string) {
		var th Thought
		pos := chess.Start()
		th.note(strings.Fields(s), &pos)
		for _, m := range th.PV {
			if !pos.Legal(m) {
				t.Fatalf("%q: %s", s, m)
			}
			pos = pos.After(m)
		}
	})
}
