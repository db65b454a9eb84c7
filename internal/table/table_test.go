// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/table/journal"
)

func TestOneMoveEach(t *testing.T) {
	p := &paper{player: []string{"e7e5"}, script: []string{
		"same", "same", "hand", "move e2e4", "move e2e4", "move e7e5", "move e7e5", "same",
	}}
	if err := p.run(t, "", ""); !errors.Is(err, context.Canceled) {
		t.Fatal(err)
	}
	p.traced(t, "setting guest reading e2e4 thinking carrying verifying e7e5 guest")
	if got := p.did(); got != "home move up move down" {
		t.Errorf("the gantry did %q", got)
	}
	p.says(t, "I play pawn from e7 to e5")
	p.says(t, "I played pawn from e7 to e5. Your move.")
}

func TestHandBetweenTwoPicturesIsNotSettled(t *testing.T) {
	p := &paper{script: []string{"same", "same", "move d2d3", "hand", "move d2d4", "hand", "move d2d4", "move d2d4"}}
	_ = p.run(t, "", "")
	p.traced(t, "setting guest reading d2d4")
}

func TestUnsureIsAsked(t *testing.T) {
	p := &paper{answers: []int{1}, script: []string{"same", "same", "unsure e2e4 d2d4", "unsure e2e4 d2d4"}}
	_ = p.run(t, "", "")
	p.traced(t, "setting guest reading d2d4 thinking")

	p = &paper{answers: []int{2}, script: []string{"same", "same", "unsure e2e4 d2d4", "unsure e2e4 d2d4"}}
	_ = p.run(t, "", "")
	if n := len(p.table.Game().Moves); n != 0 {
		t.Errorf("%d moves were made of the answer \"none of these\"", n)
	}
}

func TestSentences(t *testing.T) {
	const castle = "r3k2r/pppppppp/8/8/8/8/PPPPPPPP/R3K2R w KQkq - 0 1"
	const passing = "4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 1"
	const promote = "7k/P7/8/8/8/8/8/4K3 w - - 0 1"
	for _, c := range []struct{ fen, picture, want string }{
		{"", "illegal e2,e5", "No legal move explains e2 and e5."},
		{castle, "partial e1,g1", "the king goes to g1 and the rook from h1 to f1"},
		{passing, "partial d6,e5", "please take the pawn on d5 off the board"},
		{promote, "partial a7,a8", "Your pawn reaches a8: please exchange it"},
		{"", "partial b1", "The move is not finished yet: I see a change on b1."},
	} {
		p := &paper{script: []string{"same", "same", c.picture, c.picture, c.picture, c.picture, c.picture}}
		_ = p.run(t, c.fen, "")
		p.says(t, c.want)
		if len(p.said) != 2 {
			t.Errorf("%s: the same thing was said again and again: %q", c.picture, p.said)
		}
	}
}

func TestCaptureIsRemovedFirst(t *testing.T) {
	const fen = "4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1"
	p := &paper{player: []string{"d5e4"}, script: []string{
		"same", "same", "move e1f1", "move e1f1", "same", "same", "partial e4", "partial e4", "move d5e4", "move d5e4",
	}}
	_ = p.run(t, fen, "")
	p.traced(t, "setting guest reading e1f1 thinking carrying removal carrying verifying d5e4")
}

func TestSlipIsFetchedThenAsked(t *testing.T) {
	p := &paper{player: []string{"e7e5"}, script: []string{
		"same", "same", "move e2e4", "move e2e4",
		"slipped e7", "slipped e7", "slipped e7", "slipped e7", "slipped e7", "slipped e7", "move e7e5", "move e7e5",
	}}
	_ = p.run(t, "", "")
	if got := strings.Count(strings.Join(p.done, " "), "fetch"); got != mends {
		t.Errorf("fetched %d times", got)
	}
	p.says(t, "My pawn slipped: please put it on e5.")
	p.traced(t, "setting guest reading e2e4 thinking carrying verifying e7e5 guest")
}

func TestPieceThatStayedIsCarriedAgain(t *testing.T) {
	p := &paper{player: []string{"e7e5"}, script: []string{
		"same", "same", "move e2e4", "move e2e4", "same", "same", "move e7e5", "move e7e5",
	}}
	_ = p.run(t, "", "")
	p.traced(t, "setting guest reading e2e4 thinking carrying verifying carrying verifying e7e5")
}

func TestSilentCamera(t *testing.T) {
	p := &paper{script: []string{"same", "same", "broken", "broken", "broken", "broken", "move e2e4", "move e2e4"}}
	_ = p.run(t, "", "")
	p.says(t, "I cannot see the board. Please look at the camera and its cable (no picture came")
	if n := len(p.table.Game().Moves); n != 1 {
		t.Errorf("after the camera came back %d moves were read, want 1", n)
	}
}

func TestStallHomesAndLooks(t *testing.T) {
	p := &paper{player: []string{"e7e5"}, stalls: 1, script: []string{
		"same", "same", "move e2e4", "move e2e4", "same", "same", "move e7e5", "move e7e5",
	}}
	_ = p.run(t, "", "")
	p.traced(t, "setting guest reading e2e4 thinking carrying trouble verifying carrying verifying e7e5")
}

func TestFullDiskStopsTheMachine(t *testing.T) {
	p := &paper{script: []string{"same", "same"}, logFail: true}
	err := p.run(t, "", "")
	if err == nil || !strings.Contains(err.Error(), "no space left") {
		t.Errorf("a full disk gave %v", err)
	}
	for _, d := range p.done {
		if d == "move" || d == "up" {
			t.Errorf("the gantry did %q although nothing could be logged", d)
		}
	}
}

func TestResumeInTheMiddleOfAMove(t *testing.T) {
	fen := "rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 1"
	for name, c := range map[string]struct {
		script []string
		want   string
	}{
		"nothing done yet": {[]string{"same", "same", "move e7e5", "move e7e5"}, "setting thinking carrying verifying e7e5 guest"},
		"already there":    {[]string{"move e7e5", "move e7e5", "move e7e5", "move e7e5"}, "setting verifying e7e5 guest"},
		"left on the way":  {[]string{"slipped e7", "slipped e7", "slipped e7", "slipped e7", "move e7e5", "move e7e5"}, "setting verifying e7e5 guest"},
	} {
		p := &paper{script: c.script}
		_ = p.run(t, fen, "e7e5")
		t.Run(name, func(t *testing.T) { p.traced(t, c.want) })
	}
}

// A stop before anything has moved keeps the axes where they are, until a
// person lets the game go on.
func TestHaltWaitsForResume(t *testing.T) {
	p := &paper{player: []string{"e7e5"}, script: []string{"same", "same", "same", "same", "move e2e4", "move e2e4", "move e7e5", "move e7e5"}}
	p.before = func() {
		if err := p.table.Halt(); err != nil {
			t.Fatal(err)
		}
	}
	_ = p.run(t, "", "")
	p.says(t, "The machine was stopped by hand.")
	if got := p.did(); got != "halt home move up move down" {
		t.Errorf("the gantry did %q", got)
	}
	if got := strings.Join(p.trace, " "); !strings.Contains(got, "e7e5") {
		t.Errorf("the game did not go on after Resume: %s", got)
	}
}

// One Resume too many is refused, and lets no later failure go on by itself.
func TestResumeOnlyWhereItIsAwaited(t *testing.T) {
	p := &paper{player: []string{"e7e5"}, stalls: 3, script: slices.Repeat([]string{"same"}, 20)}
	p.script = append([]string{"same", "same", "move e2e4", "move e2e4"}, p.script...)
	p.before = func() {
		if err := p.table.Request(journal.Request{Kind: journal.RequestResume}); err == nil {
			t.Error("a Resume that nothing waits for was taken")
		}
	}
	_ = p.run(t, "", "")
	p.says(t, "The machine has stopped: ")
	homes := 0
	for _, d := range p.done {
		if d == "home" {
			homes++
		}
	}
	if resumed := p.count(journal.Resumed); homes != 4 || resumed != 1 {
		t.Errorf("the axes were homed %d times and a person let it go on %d times, want 4 and 1", homes, resumed)
	}
}

// Whoever pulled the plug is told so, that the game is kept and what to do, not to look under the
// board; once it is back and a person has said Resume the game goes on.
func TestPulledPlugIsNamed(t *testing.T) {
	p := &paper{player: []string{"e7e5"}, unplugs: 4, script: append([]string{"same", "same", "move e2e4", "move e2e4"}, slices.Repeat([]string{"same"}, 20)...)}
	_ = p.run(t, "", "")
	p.says(t, "The motor controller is gone: its plug or its supply has come off. Nothing moves, and the game is kept.")
	for _, s := range p.said {
		if strings.Contains(s, "nder the board") {
			t.Errorf("said %q", s)
		}
	}
	failed := 0
	for _, r := range p.records {
		if r.What == journal.Failed {
			if failed++; r.Cause != string(journal.PartPlug) {
				t.Errorf("recorded as %q: %s", r.Cause, r.Said)
			}
		}
	}
	if failed == 0 || p.count(journal.Resumed) != 1 || !slices.Contains(p.trace[slices.Index(p.trace, "trouble"):], "carrying") || !slices.Contains(p.done, "move") {
		t.Errorf("%d failures; the game did not go on: %v", failed, p.trace)
	}
}

// count is how often something happened.
func (p *paper) count(what journal.Happening) (n int) {
	for _, r := range p.records {
		if r.What == what {
			n++
		}
	}
	return n
}
