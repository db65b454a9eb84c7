// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/rehearsal/fixture"
	"boardhand/internal/rig"
	"boardhand/internal/sight/scene"
)

// squareAlone is a reader of a game that is told the size of a square and nothing else.
func squareAlone(s *recording) *Reader {
	r := NewReader(scene.Setup{Square: s.setup.Square})
	r.Begin(s.start)
	return r
}

// From a square's size alone the reader finds in the first picture where the camera hangs, how
// wide it sees, where White sits and about how high the pieces are, says so, and reads on.
func TestSquareAlone(t *testing.T) {
	for _, name := range []string{"gate/gate22", "gate/gate40", "games/towers"} {
		s, err := readScene(filepath.Join("testdata", filepath.FromSlash(name)))
		if err != nil {
			t.Fatal(err)
		}
		r := squareAlone(s)
		for k, f := range s.frames[:4] {
			got, err := r.Read(t.Context(), s.picture(t, k))
			if err != nil {
				t.Fatalf("%s/%s: %v", name, f.Frame, err)
			}
			if k == 0 && got.State != Same {
				t.Errorf("%s/%s: read %s %v", name, f.Frame, got.State, got.Squares)
			}
			if f.State == Moved {
				m, err := pos(r).ParseUCI(f.Move)
				if err != nil {
					t.Fatal(err)
				}
				if got.State == Moved && got.Move != m {
					t.Errorf("%s/%s: read %s, it was %s", name, f.Frame, got.Move, f.Move)
				}
				if err := r.Resolve(m); err != nil {
					t.Fatal(err)
				}
			}
		}
		judgeFound(t, name, r, s)
	}
}

// judgeFound compares what was found with what the rig file and the true camera say.
func judgeFound(t *testing.T, name string, r *Reader, s *recording) {
	t.Helper()
	if r.setup.White != s.setup.White {
		t.Errorf("%s: White is taken to sit at the %s, it is the %s", name, r.setup.White, s.setup.White)
	}
	if off := r.setup.Height/s.setup.Height - 1; math.Abs(off) > 0.3 {
		t.Errorf("%s: the camera's height is off by %.0f %%", name, off*100)
	}
	for k := chess.Pawn; k <= chess.King; k++ {
		was, is := s.setup.Pieces[k], r.setup.Pieces[k]
		if off := is.Height/was.Height - 1; math.Abs(off) > 0.4 {
			t.Errorf("%s: the height of a %v is off by %.0f %%", name, k, off*100)
		}
		if off := is.Base/was.Base - 1; math.Abs(off) > 0.2 {
			t.Errorf("%s: the base of a %v is off by %.0f %%", name, k, off*100)
		}
	}
	if len(r.Found()) != 4 || !strings.Contains(r.Found()[1], "±") {
		t.Errorf("%s: the reader says it found %q", name, r.Found())
	}
}

// What is said is not looked for: with all but the pieces said, only they are estimated.
func TestPiecesUnsaid(t *testing.T) {
	s := game(t)
	setup := s.setup
	for k := range setup.Pieces {
		setup.Pieces[k].Height = 0
	}
	r := NewReader(setup)
	r.Begin(s.start)
	if _, err := r.Read(t.Context(), s.picture(t, 0)); err != nil {
		t.Fatal(err)
	}
	if r.setup.Height != s.setup.Height || r.setup.HFOV != s.setup.HFOV || r.setup.White != s.setup.White || len(r.Found()) != 1 {
		t.Errorf("the reader says it found %q", r.Found())
	}
	for k := chess.Pawn; k <= chess.King; k++ {
		if r.setup.Pieces[k].Base != s.setup.Pieces[k].Base || r.setup.Pieces[k].Height == 0 {
			t.Errorf("a %v is %+v, its base was said to be %g", k, r.setup.Pieces[k], s.setup.Pieces[k].Base)
		}
	}
}

// A square alone is not all, and is enough to begin with; nonsense is refused.
func TestCheckSaid(t *testing.T) {
	s := scene.Setup{Square: 0.04}
	if s.IsWhole() || s.CheckSaid() != nil {
		t.Errorf("a square alone: whole %v, %v", s.IsWhole(), s.CheckSaid())
	}
	s.Pieces[chess.King].Base = 0.09
	if err := s.CheckSaid(); err == nil || !strings.Contains(err.Error(), "pieces.king") {
		t.Errorf("a base of 90 mm on squares of 40: %v", err)
	}
	if err := (scene.Setup{}).CheckSaid(); err == nil || !strings.Contains(err.Error(), "board.square") {
		t.Errorf("nothing said: %v", err)
	}
}

// TestFound compares what is found in the first pictures of rendered games (BOARDHAND_SCENES, as
// TestScenes) with what is so, and tells how far off it was.
func TestFound(t *testing.T) {
	patterns := os.Getenv("BOARDHAND_SCENES")
	if patterns == "" {
		t.Skip("BOARDHAND_SCENES is not set")
	}
	var camera, angle, heights, bases []float64
	white, games := 0, 0
	for pattern := range strings.SplitSeq(patterns, ":") {
		dirs, err := filepath.Glob(fromRoot(pattern))
		if err != nil {
			t.Fatal(err)
		}
		for _, dir := range dirs {
			s, err := readScene(dir)
			if err != nil {
				continue // not drawn yet
			}
			games++
			r := squareAlone(s)
			got, err := r.Read(t.Context(), s.picture(t, 0))
			if err != nil {
				t.Logf("%s: %v", dir, err)
				continue
			}
			if r.setup.White == s.setup.White {
				white++
			} else {
				t.Errorf("%s: White is taken to sit at the %s", dir, r.setup.White)
			}
			true0 := s.views[s.frames[0].Frame]
			camera = append(camera, math.Abs(r.setup.Height/true0.Camera().Z-1))
			angle = append(angle, math.Abs(r.setup.HFOV-true0.Lens.HFOV(r.setup.Image[0]))*180/math.Pi)
			for k := chess.Pawn; k <= chess.King; k++ {
				heights = append(heights, math.Abs(r.setup.Pieces[k].Height/s.setup.Pieces[k].Height-1))
				bases = append(bases, math.Abs(r.setup.Pieces[k].Base/s.setup.Pieces[k].Base-1))
			}
			t.Logf("%s: %s %v; %s", filepath.Base(dir), got.State, got.Squares, strings.Join(r.Found()[1:], " "))
		}
	}
	t.Logf("%d of %d games: White's side right; camera's height off by %.3f (95 %% %.3f), field of view by %.1f deg (%.1f), heights by %.3f (%.3f), bases by %.3f (%.3f)", white, games,
		quantile(camera, 0.5), quantile(camera, 0.95), quantile(angle, 0.5), quantile(angle, 0.95), quantile(heights, 0.5), quantile(heights, 0.95), quantile(bases, 0.5), quantile(bases, 0.95))
}

// The reader knows the pieces of chess, and says so of others.
func TestOtherPiecesAreRefused(t *testing.T) {
	r, err := rig.Parse("discs.toml", []byte(fixture.Discs(t)), rig.Watching)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := SetupFrom(r); err == nil || !strings.Contains(err.Error(), "the rig's are tall_disc, disc") {
		t.Error(err)
	}
}
