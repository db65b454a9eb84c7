// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// alone counts how a reader fares whom nobody answers.
type alone struct {
	settled, agreed int // pictures of a finished position; of these, with the right position afterwards
	filled          int // of these, because several plies were read at once
	wrong           int // positions believed that were never on the board
	run, longest    int // settled pictures in a row without agreement
	notes           []string
}

// read follows a recording with some of its pictures taken out.
func (c *alone) read(t *testing.T, s *recording, without func(n int, f truth) bool) {
	t.Helper()
	r := NewReader(s.setup)
	r.Begin(s.start)
	r.LookFor(6)
	was := map[string]bool{s.start.FEN(): true}
	for n, f := range s.frames {
		was[f.FEN] = true
		if without(n, f) {
			continue
		}
		data, err := os.ReadFile(filepath.Join(s.dir, f.Frame))
		if err != nil {
			t.Fatal(err)
		}
		p := Picture{Name: f.Frame, JPEG: data}
		if s.light != nil {
			if p.Image, err = p.decode(); err != nil {
				t.Fatal(err)
			}
			p = Picture{Name: f.Frame, Image: s.light.over(p.Image, n)}
		}
		got, err := r.Read(context.Background(), p)
		if err != nil {
			t.Errorf("%s: %v", s.dir, err)
			continue
		}
		switch got.State {
		case Moved:
			err = r.Accept(got.Move)
		case Several:
			err = r.AcceptAll(got.Plies)
		}
		if err != nil {
			t.Fatal(err)
		}
		c.add(s, f, got, r, was)
	}
}

// add books what a picture led to; was are the positions that have been on the board.
func (c *alone) add(s *recording, f truth, got Reading, r *Reader, was map[string]bool) {
	now := r.Position()
	note := func(text string) {
		c.notes = append(c.notes, fmt.Sprintf("%s/%s %s %s: %s: %s %v %v %.3f %v", filepath.Base(s.dir), f.Frame, f.Kind, f.Move, text, got.State, got.Move, got.Plies, got.Belief, got.Squares))
	}
	if !was[now.FEN()] {
		c.wrong++
		was[now.FEN()] = true
		note("WRONG")
	}
	if f.State != Moved && f.State != Same {
		return
	}
	c.settled++
	if now.FEN() != f.FEN {
		c.run++
		c.longest = max(c.longest, c.run)
		note("behind")
		return
	}
	c.run = 0
	c.agreed++
	if got.State == Several {
		c.filled++
	}
}

// tell tells the counts.
func (c *alone) tell(t *testing.T) {
	t.Helper()
	t.Logf("%d settled pictures, %d agreed with afterwards (%d filled in what was missed), %d wrong positions, at most %d in a row without agreement\n%s",
		c.settled, c.agreed, c.filled, c.wrong, c.longest, strings.Join(c.notes, "\n"))
}

// TestSeveral reads the gate's games with each third picture of a move taken out: what was
// missed is filled in by the next.
func TestSeveral(t *testing.T) {
	var c alone
	for _, name := range []string{"gate22", "gate58", "gate60"} {
		s, err := readScene(filepath.Join(gateGames, name))
		if err != nil {
			t.Fatal(err)
		}
		moves := 0
		c.read(t, s, func(_ int, f truth) bool {
			if f.State == Moved {
				moves++
			}
			return f.State == Moved && moves%3 == 1
		})
	}
	c.tell(t)
	if c.wrong > 0 || c.filled < 4 || c.agreed < c.settled {
		t.Error("what was missed is not filled in")
	}
}

// TestAlone reads rendered games (BOARDHAND_SCENES, as TestScenes) that nobody answers for.
// BOARDHAND_LOSE=true takes every tenth picture of a finished position out.
func TestAlone(t *testing.T) {
	patterns := os.Getenv("BOARDHAND_SCENES")
	if patterns == "" {
		t.Skip("BOARDHAND_SCENES is not set")
	}
	var c alone
	settled := 0
	for pattern := range strings.SplitSeq(patterns, ":") {
		dirs, err := filepath.Glob(fromRoot(pattern))
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range dirs {
			s, err := readScene(d)
			if err != nil {
				continue // still being drawn
			}
			c.run = 0
			c.read(t, s, func(n int, f truth) bool {
				if f.State == Moved || f.State == Same {
					settled++
				}
				return os.Getenv("BOARDHAND_LOSE") == "true" && n > 0 && (f.State == Moved || f.State == Same) && settled%10 == 0
			})
		}
	}
	c.tell(t)
}
