// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"boardhand/internal/chess"
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
		if off := is.Height/was.Height - 1; math.Abs(off) > 0.5 {
			t.Errorf("%s: the height of a %v is off by %.0f %%", name, k, off*100)
		}
		if off := is.Base/was.Base - 1; math.Abs(off) > 0.35 {
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

// A position with pieces of one brightness on both halves of the board does not tell where
// White sits; the reader asks, and says by what to answer.
func TestWhiteUntold(t *testing.T) {
	s := game(t)
	r := squareAlone(s)
	bare, err := chess.ParseFEN("8/8/8/3k4/8/3K4/8/8 w - - 0 1")
	if err != nil {
		t.Fatal(err)
	}
	r.Begin(bare)
	u := unsaid{setup: r.setup}
	if err := u.setup.CheckSaid(); err != nil {
		t.Fatal(err)
	}
	if u.setup.IsWhole() {
		t.Error("a square alone is said to be all")
	}
}
