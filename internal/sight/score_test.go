// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/photo"
	"boardhand/internal/sight/scene"
)

// score of scenes: what was read against what was so.
type score struct {
	confusion       map[[2]string]int
	moves, right    int
	wrong, settled  int
	unsure          int
	told, toldRight int // illegal and partial
	times           []float64
	readings        []string // a line a picture
	inside          margins
	offsets         []float64 // mm, each coordinate
	sigmas          []float64 // error over the stated σ
	said            []answer
	worst           []string
}

func newScore() *score { return &score{confusion: map[[2]string]int{}} }

// follow reads a scene with the truth as the person who is asked.
func (c *score) follow(t *testing.T, s *recording, givenView bool) {
	setup := s.setup
	if os.Getenv("BOARDHAND_SQUARE") == "true" {
		setup = scene.Setup{Square: setup.Square}
	}
	r := NewReader(setup)
	r.Begin(s.start)
	for n, f := range s.frames {
		if v, ok := s.views[f.Frame]; ok && givenView {
			r.use(v)
		}
		data, err := os.ReadFile(filepath.Join(s.dir, f.Frame))
		if err != nil {
			t.Fatal(err)
		}
		p := photo.Picture{Name: f.Frame, JPEG: data}
		if p.Image, err = decode(p); err != nil {
			t.Fatal(err)
		}
		if s.light != nil {
			p = photo.Picture{Name: f.Frame, Image: s.light.over(p.Image, n)}
		}
		began := busy()
		got, err := r.Read(context.Background(), p)
		if err != nil {
			t.Errorf("%s: %v", s.dir, err)
			c.confusion[[2]string{string(f.State), "error"}]++
			c.readings = append(c.readings, f.line(s)+"error")
			continue
		}
		took := (busy() - began).Seconds() * 1e3
		c.add(s, f, got, took)
		c.inside.look(s, f, r)
		if want := os.Getenv("BOARDHAND_EXPLAIN"); want != "" && strings.HasSuffix(filepath.Base(s.dir)+"/"+f.Frame, want) {
			t.Log(r.Explain())
		}
		if f.State == Moved {
			m, err := pos(r).ParseUCI(f.Move)
			if err != nil {
				t.Fatal(err)
			}
			if got.State == Hand || got.State == Moved && got.Move == m { // a hand: there is nothing to learn
				err = r.Accept(m)
			} else {
				err = r.Resolve(m)
			}
			if err != nil {
				t.Fatal(err)
			}
		} else if f.State == Same && got.State == Unsure {
			if err := r.Resolve(0); err != nil {
				t.Fatal(err)
			}
		}
		if f.State == Moved || f.State == Same {
			c.compare(s, f, r)
		}
	}
}

// busy is the processor time this program has used: the machine may have
// other work.
func busy() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

func pos(r *Reader) *chess.Position { p := r.Position(); return &p }

// add books one reading.
func (c *score) add(s *recording, f truth, got Reading, took float64) {
	c.confusion[[2]string{string(f.State), string(got.State)}]++
	c.times = append(c.times, took)
	right := got.State == f.State && (f.State != Moved || got.Move.String() == f.Move)
	if got.State != Unsure {
		c.said = append(c.said, answer{got.Belief, right})
	} else if len(got.Candidates) > 0 && f.State == Moved {
		best := got.Candidates[0]
		c.said = append(c.said, answer{best.Belief, best.Move.String() == f.Move})
	}
	if f.State != Hand {
		c.settled++
		if got.State == Unsure {
			c.unsure++
		}
	}
	if f.State == Moved {
		c.moves++
		if right {
			c.right++
		}
	}
	if got.State == Moved && !right {
		c.wrong++
	}
	if f.State == Partial || f.State == Illegal {
		c.told++
		if right {
			c.toldRight++
		}
	}
	c.readings = append(c.readings, strings.TrimSpace(f.line(s)+string(got.State)+" "+moveName(got)))
	if !right {
		c.worst = append(c.worst, fmt.Sprintf("%s/%s %s %s %s: read %s %s %.4f %v %v", filepath.Base(s.dir), f.Frame, f.Kind, f.State, f.Move, got.State, got.Move, got.Belief, got.Squares, got.Candidates))
	}
}

// line begins what is said of one picture.
func (f truth) line(s *recording) string {
	return strings.TrimSpace(fmt.Sprintf("%s/%s %s %s", filepath.Base(s.dir), f.Frame, f.Kind, f.Move)) + ": "
}

// moveName is the move of a reading that has one.
func moveName(got Reading) string {
	if got.State != Moved {
		return ""
	}
	return got.Move.String()
}

// compare books the offsets of the pieces.
func (c *score) compare(s *recording, f truth, r *Reader) {
	for _, o := range r.Offsets() {
		want, ok := f.Offsets[o.Square.String()]
		if !ok {
			continue
		}
		for _, e := range [2]float64{o.Delta.X*1e3 - want[0], o.Delta.Y*1e3 - want[1]} {
			c.offsets = append(c.offsets, math.Abs(e))
			c.sigmas = append(c.sigmas, math.Abs(e)/(o.Sigma*1e3))
		}
	}
}

func quantile(v []float64, q float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	slices.Sort(v)
	return v[int(q*float64(len(v)-1))]
}

func (c *score) report(t *testing.T) {
	states := []string{"same", "move", "hand", "partial", "illegal", "unsure", "error"}
	var b strings.Builder
	fmt.Fprintf(&b, "\n%8s", "true")
	for _, s := range states {
		fmt.Fprintf(&b, "%9s", s)
	}
	for _, s := range states[:5] {
		fmt.Fprintf(&b, "\n%8s", s)
		for _, g := range states {
			fmt.Fprintf(&b, "%9d", c.confusion[[2]string{s, g}])
		}
	}
	fmt.Fprintf(&b, "\nmoves right %d of %d, wrong moves %d, unsure %d of %d settled, partial/illegal told %d of %d\n", c.right, c.moves, c.wrong, c.unsure, c.settled, c.toldRight, c.told)
	fmt.Fprintf(&b, "time ms: median %.0f, 95 %% %.0f, most %.0f\n", quantile(c.times, 0.5), quantile(c.times, 0.95), quantile(c.times, 1))
	fmt.Fprintf(&b, "offsets mm: median %.2f, 95 %% %.2f, most %.2f; over σ: median %.2f, 95 %% %.2f\n", quantile(c.offsets, 0.5), quantile(c.offsets, 0.95), quantile(c.offsets, 1), quantile(c.sigmas, 0.5), quantile(c.sigmas, 0.95))
	fmt.Fprintf(&b, "belief:")
	for _, n := range reliability(c.said) {
		fmt.Fprintf(&b, "  %.3f: %d of %d", n.belief, n.right, n.of)
	}
	t.Log(b.String())
	for _, w := range c.worst {
		t.Log(w)
	}
}
