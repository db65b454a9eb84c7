// SPDX-License-Identifier: Apache-2.0

package player

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/search"
	"boardhand/internal/uci"
	"boardhand/internal/uci/fake"
)

const (
	aMove  = 70 * time.Millisecond
	aGrace = 50 * time.Second
	aQuit  = 7 * time.Second
)

// The test's own program plays the outside player.
func TestMain(m *testing.M) {
	fake.Become()
	os.Exit(m.Run())
}

// relievedPlayer is a player at the table whose outside player misbehaves, and
// what it tells.
func relievedPlayer(t *testing.T, manner string, times ...time.Duration) (*Player, *[]Substitution) {
	t.Helper()
	t.Setenv(fake.Manner, manner)
	clock := fake.Clock(times...)
	after := func(d time.Duration) <-chan time.Time {
		if d == aQuit { // one that is still thinking when the test is over does not hear that it may go
			return fake.Clock(aQuit)(d)
		}
		return clock(d)
	}
	k, err := uci.Keep(t.Context(), `"`+os.Args[0]+`"`, uci.Patience{Start: time.Minute, Grace: aGrace, Quit: aQuit, After: after})
	if err != nil {
		t.Fatal(err)
	}
	var told []Substitution
	p := &Player{t: relieved(k, func(s Substitution) { told = append(told, s) }), limits: search.Limits{Time: aMove, Depth: 2}}
	t.Cleanup(p.Close)
	return p, &told
}

// choose plays some moves, each chosen by the player.
func choose(t *testing.T, p *Player, g *chess.Game, plies int) {
	t.Helper()
	for range plies {
		m, err := p.Choose(t.Context(), g)
		if err != nil {
			t.Fatal(err)
		}
		if err := g.Push(m); err != nil {
			t.Fatal(err)
		}
	}
}

func changes(told []Substitution) (out []Change) {
	for _, s := range told {
		out = append(out, s.Change)
	}
	return out
}

// Whatever an outside player does, every question is answered with a legal
// move; what happened is told once, and in the next game it is tried again.
func TestOutsidePlayerNeverStopsTheGame(t *testing.T) {
	late := []time.Duration{aMove + aGrace, aGrace, aMove + aGrace, aGrace}
	for manner, c := range map[string]struct {
		times []time.Duration
		want  []Change
		said  string
	}{
		fake.Plain:    {nil, nil, ""},
		fake.Double:   {nil, nil, ""},
		fake.LongLine: {nil, nil, ""},
		fake.Slips:    {nil, nil, ""},
		fake.Hangs:    {late, []Change{Restarted, Replaced}, "does not answer"},
		fake.Floods:   {late, []Change{Restarted, Replaced}, "does not answer"},
		fake.Crashes:  {nil, []Change{Restarted, Replaced}, "does not answer"},
		fake.Bare:     {nil, []Change{Replaced}, "names no legal move"},
		fake.None:     {nil, []Change{Replaced}, "names no legal move"},
		fake.Cheats:   {nil, []Change{Replaced}, "names no legal move"},
		fake.Garbage:  {nil, []Change{Replaced}, "names no legal move"},
	} {
		t.Run(manner, func(t *testing.T) {
			p, told := relievedPlayer(t, manner, c.times...)
			choose(t, p, chess.NewGame(chess.Start()), 4)
			if !slices.Equal(changes(*told), c.want) {
				t.Fatalf("told %v, want %v", *told, c.want)
			}
			if c.want == nil {
				return
			}
			last := (*told)[len(*told)-1]
			if !strings.Contains(last.Said, c.said) || last.Cause == nil || last.Player == "" {
				t.Errorf("told %+v", last)
			}
			t.Setenv(fake.Manner, fake.Plain)
			choose(t, p, chess.NewGame(chess.Start()), 4)
			if want := append(c.want, Returned); !slices.Equal(changes(*told), want) {
				t.Errorf("after the next game: told %v, want %v", changes(*told), want)
			}
		})
	}
}

// A player that fails once is started again and plays the game to its end.
func TestOutsidePlayerIsStartedAgain(t *testing.T) {
	t.Setenv(fake.Once, filepath.Join(t.TempDir(), "once"))
	p, told := relievedPlayer(t, fake.Crashes)
	g := chess.NewGame(chess.Start())
	want := fake.Last(g)
	choose(t, p, g, 3)
	if g.Moves[0] != want || !slices.Equal(changes(*told), []Change{Restarted}) {
		t.Errorf("played %v, told %v", g.Moves, *told)
	}
}

// A halt ends the thinking at once, and is no failure of the outside player.
func TestHaltEndsThinking(t *testing.T) {
	for _, manner := range []string{fake.Hangs, fake.Muses, fake.Floods} {
		p, told := relievedPlayer(t, manner)
		ctx, cancel := context.WithCancel(t.Context())
		ended := make(chan error)
		go func() {
			_, err := p.Choose(ctx, chess.NewGame(chess.Start()))
			ended <- err
		}()
		cancel()
		if err := <-ended; !errors.Is(err, context.Canceled) || len(*told) != 0 {
			t.Errorf("%s: %v, told %v", manner, err, *told)
		}
	}
}

func TestWeigh(t *testing.T) {
	for fen, want := range map[string]int{ // +1: White is far ahead
		"4k3/8/8/8/8/8/8/QQ2K3 w - - 0 1":   1,
		"4k3/8/8/8/8/8/8/QQ2K3 b - - 0 1":   1,
		"4kqq1/8/8/8/8/8/8/4K3 b - - 0 1":   -1,
		"8/8/4k3/8/8/4K3/8/8 w - - 0 1":     0,
		"4k3/4p3/8/8/8/8/4P3/4K3 w - - 0 1": 0,
	} {
		pos, err := chess.ParseFEN(fen)
		if err != nil {
			t.Fatal(err)
		}
		for side, sign := range map[chess.Color]int{chess.White: 1, chess.Black: -1} {
			p := Player{machine: side}
			cp, err := p.Weigh(t.Context(), chess.NewGame(pos))
			if err != nil {
				t.Fatal(err)
			}
			if cp *= sign; want > 0 && cp < 500 || want < 0 && cp > -500 || want == 0 && (cp < -150 || cp > 150) {
				t.Errorf("%s, machine %s: %d for White", fen, side, cp)
			}
		}
	}
	over, err := chess.ParseFEN("rnb1kbnr/pppp1ppp/8/4p3/6Pq/5P2/PPPPP2P/RNBQKBNR w KQkq - 1 3")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := (&Player{}).Weigh(t.Context(), chess.NewGame(over)); err == nil {
		t.Error("a game that is over was weighed")
	}
}
