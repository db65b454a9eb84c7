// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"cmp"
	"context"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardhand/internal/photo"
)

// alone counts how a reader fares whom nobody answers.
type alone struct {
	settled, agreed int                 // pictures of a finished position; of these, with the right position afterwards
	filled          int                 // of these, because several plies were read at once
	wrong           int                 // positions believed that were never on the board
	run, longest    int                 // settled pictures in a row without agreement
	black, fooled   int                 // black pictures; of these, told as anything that is on a board
	said            map[string][]answer // beliefs given out, by the kind of light
	told            map[kindOf]share    // pictures told as what they are
	doubted         map[string]int      // settled pictures left in doubt, by the kind of light
	sessions        []string
	notes           []string
}

// kindOf is what a picture shows, and in which light.
type kindOf struct {
	light string
	state State
}

// share is how many of some are right.
type share struct{ right, of int }

// fate is what becomes of a picture before the reader sees it.
type fate int

const (
	kept fate = iota
	deleted
	blackened
)

// read follows a recording with some of its pictures taken out, or black.
func (c *alone) read(t *testing.T, s *recording, fateOf func(n int, f truth) fate) {
	t.Helper()
	r := NewReader(s.setup)
	r.Begin(s.start)
	r.LookFor(6)
	was := map[string]bool{s.start.FEN(): true}
	for n, f := range s.frames {
		was[f.FEN] = true
		switch fateOf(n, f) {
		case deleted:
			continue
		case blackened:
			c.readBlack(s, r)
			continue
		}
		data, err := os.ReadFile(filepath.Join(s.dir, f.Frame))
		if err != nil {
			t.Fatal(err)
		}
		p := photo.Picture{Name: f.Frame, JPEG: data}
		if s.light != nil {
			if p.Image, err = decode(p); err != nil {
				t.Fatal(err)
			}
			p = photo.Picture{Name: f.Frame, Image: s.light.over(p.Image, n)}
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

// readBlack shows a reader nothing at all, whose board must stay as it is.
func (c *alone) readBlack(s *recording, r *Reader) {
	c.black++
	img := image.NewGray(image.Rect(0, 0, s.setup.Image[0], s.setup.Image[1]))
	if got, err := r.Read(context.Background(), photo.Picture{Name: "black", Image: img}); err == nil && (got.isFinished() || got.State == Partial || got.State == Illegal) {
		c.fooled++
		c.notes = append(c.notes, fmt.Sprintf("%s: black: %s %v %.3f", filepath.Base(s.dir), got.State, got.Move, got.Belief))
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
	light := cmp.Or(f.Room, setOf(filepath.Base(s.dir)))
	c.count(light, f, got, now.FEN() == f.FEN)
	if f.State != Moved && f.State != Same {
		if got.State != f.State {
			note("not so told")
		}
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

// count books what a picture was told as, and with which belief.
func (c *alone) count(light string, f truth, got Reading, isRight bool) {
	if c.said == nil {
		c.said, c.told, c.doubted = map[string][]answer{}, map[kindOf]share{}, map[string]int{}
	}
	k := kindOf{light, f.State}
	n := c.told[k]
	n.of++
	if isSettled := f.State == Moved || f.State == Same; isSettled && isRight || !isSettled && got.State == f.State {
		n.right++
	}
	c.told[k] = n
	switch {
	case f.State != Moved && f.State != Same:
	case got.isFinished():
		c.said[light] = append(c.said[light], answer{belief: got.Belief, right: isRight})
	default:
		c.doubted[light]++
	}
}

// tell tells the counts.
func (c *alone) tell(t *testing.T) {
	t.Helper()
	t.Logf("%s\n%s%s", c.summary(), c.shares()+c.reliability(), strings.Join(c.notes, "\n"))
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
		c.read(t, s, func(_ int, f truth) fate {
			if f.State == Moved {
				moves++
			}
			if f.State == Moved && moves%3 == 1 {
				return deleted
			}
			return kept
		})
	}
	c.tell(t)
	if c.wrong > 0 || c.filled < 4 || c.agreed < c.settled {
		t.Error("what was missed is not filled in")
	}
}

// TestAlone reads rendered games (BOARDHAND_SCENES, as TestScenes) that nobody answers for.
// BOARDHAND_LOSE=true takes every tenth picture of a finished position out and shows every
// fifteenth black; BOARDHAND_PAGE names a file for the figures (docs/alone.md).
func TestAlone(t *testing.T) {
	patterns := os.Getenv("BOARDHAND_SCENES")
	if patterns == "" {
		t.Skip("BOARDHAND_SCENES is not set")
	}
	var c alone
	lose := losing(os.Getenv("BOARDHAND_LOSE") == "true")
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
			c.sessions = append(c.sessions, filepath.Base(d))
			c.read(t, s, lose)
		}
	}
	c.tell(t)
	if c.fooled > 0 {
		t.Error("something was read from a black picture")
	}
	if name := os.Getenv("BOARDHAND_PAGE"); name != "" {
		if err := os.WriteFile(fromRoot(name), []byte(c.page()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// losing says which pictures are lost, counted over all games: of those of a finished position
// every tenth is taken out and every fifteenth is black, but the first of a game.
func losing(isOn bool) func(n int, f truth) fate {
	settled := 0
	return func(n int, f truth) fate {
		if !isOn || f.State != Moved && f.State != Same {
			return kept
		}
		settled++
		switch {
		case n == 0:
			return kept
		case settled%10 == 0:
			return deleted
		case settled%15 == 0:
			return blackened
		}
		return kept
	}
}
