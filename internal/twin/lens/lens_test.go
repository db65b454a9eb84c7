// SPDX-License-Identifier: Apache-2.0

package lens

import (
	"bytes"
	"errors"
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
)

// built is a studio with a small picture over a flat board, its camera as the
// rig file hangs it.
func built(t *testing.T, seed uint64, with func(*Troubles, *rand.Rand)) *Studio {
	t.Helper()
	r := rig.Default()
	r.Camera.Image = [2]int{160, 90}
	o := Setting{Mount: Mount{FocalScale: 1}, Height: func(frame.Spot[frame.Board]) float64 { return 0 }, Chance: rand.New(rand.NewPCG(seed, 4))}
	if with != nil {
		with(&o.Troubles, rand.New(rand.NewPCG(seed, 100)))
	}
	s, err := New(r, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// king stands on a square of the default rig.
func king(s *Studio, file, rank int) Piece {
	r := s.scene.rig
	return Piece{Piece: chess.MakePiece(chess.White, chess.King), At: r.Board.Centre(file, rank),
		Base: float64(r.Pieces.Of(chess.King).Base) / 2, Height: float64(r.Pieces.Of(chess.King).Height), Shade: 1}
}

// looks takes n pictures of a king; see gets those that arrive, or nothing.
func looks(t *testing.T, s *Studio, n int, see func(Picture)) {
	t.Helper()
	scene := Scene{Pieces: []Piece{king(s, 4, 0)}}
	for range n {
		p, err := s.Take(scene)
		if err != nil && !errors.Is(err, ErrNoPicture) {
			t.Fatal(err)
		}
		see(p)
	}
}

func runs(is []bool) (lengths []int) {
	n := 0
	for _, v := range is { // a run that the end cuts off does not count
		if v {
			n++
		} else if n > 0 {
			lengths, n = append(lengths, n), 0
		}
	}
	return lengths
}

func TestPicturesAreLostInRuns(t *testing.T) {
	var lost []bool
	s := built(t, 3, func(o *Troubles, c *rand.Rand) { o.Losing = c })
	looks(t, s, 500, func(p Picture) { lost = append(lost, p.JPEG == nil) })
	got := runs(lost)
	longest := 0
	for _, n := range got {
		longest = max(longest, n)
	}
	if len(got) < 5 || len(got) > 40 || longest < 3 || longest > 3*lostMost {
		t.Errorf("runs of %v", got)
	}
}

func TestFrozenPicturesAreTheSameBytes(t *testing.T) {
	var last []byte
	var frozen []bool
	s := built(t, 3, func(o *Troubles, c *rand.Rand) { o.Freezing = c })
	looks(t, s, 500, func(p Picture) {
		same := bytes.Equal(p.JPEG, last)
		if frozen, last = append(frozen, same), p.JPEG; same != p.IsFrozen {
			t.Errorf("picture %d: the same bytes %v, told as frozen %v", p.Number, same, p.IsFrozen)
		}
	})
	got := runs(frozen)
	shortest := math.MaxInt
	for _, n := range got {
		shortest = min(shortest, n)
	}
	if len(got) < 5 || len(got) > 40 || shortest < frozenLeast {
		t.Errorf("runs of %v", got)
	}
	last = nil
	looks(t, built(t, 3, nil), 100, func(p Picture) {
		if bytes.Equal(p.JPEG, last) {
			t.Error("the same bytes without the fault")
		}
		last = p.JPEG
	})
}

func TestGlareWanders(t *testing.T) {
	for seed := uint64(1); seed <= 3; seed++ {
		s := built(t, seed, func(o *Troubles, c *rand.Rand) { o.Glare = c })
		var places []vec
		looks(t, s, 60, func(Picture) {
			if s.glare.left > 0 {
				places = append(places, s.glare.source)
			}
		})
		if len(places) < 5 || places[0].Sub(places[1]).Norm() < 1e-3 {
			t.Errorf("seed %d: the glare does not wander: %d places", seed, len(places))
		}
	}
}

// A piece's shadow under a low lamp is at least half as long again as it is
// high; a lamp that is not low throws shorter ones.
func TestLowLampThrowsLongShadows(t *testing.T) {
	length := func(s *Studio) float64 {
		b := king(s, 4, 0)
		tip, _, _ := s.scene.light.cast(b.At.At(b.Height), 0)
		return tip.Distance(b.At) / b.Height
	}
	for seed := uint64(1); seed <= 10; seed++ {
		if k := length(built(t, seed, func(o *Troubles, c *rand.Rand) { o.LowLamp = c })); k < 1.5 || k > 8 {
			t.Errorf("seed %d: a shadow of %.1f heights under a low lamp", seed, k)
		}
		if k := length(built(t, seed, nil)); k > 1.5 {
			t.Errorf("seed %d: a shadow of %.1f heights", seed, k)
		}
	}
}

// What is drawn is what the scene says, whatever was drawn before: a picture
// of a piece that moved is the picture of one that always stood there.
func TestPictureIsOfTheScene(t *testing.T) {
	moved, still := built(t, 5, nil), built(t, 5, nil)
	from, to := king(moved, 4, 0), king(moved, 4, 3)
	to.Rock, to.Heading = 0.2, frame.Spot[frame.Board]{X: 1}
	take := func(s *Studio, b Piece) []uint16 {
		if _, err := s.Take(Scene{Pieces: []Piece{b}}); err != nil {
			t.Fatal(err)
		}
		return s.still
	}
	take(moved, from)
	a, b := take(moved, to), take(still, to)
	for i := range a {
		if a[i] != b[i] {
			t.Fatalf("sample %d: %d after a move, %d else", i, a[i], b[i])
		}
	}
}

func TestRestoredStudioTakesTheSamePicture(t *testing.T) {
	s := built(t, 6, func(o *Troubles, _ *rand.Rand) { o.Bumps, o.Switches = true, true })
	looks(t, s, 200, func(Picture) {})
	n := built(t, 6, nil)
	n.Restore(s.State())
	if a, b := n.State(), s.State(); a != b {
		t.Fatalf("%+v, restored %+v", b, a)
	}
	s.prepare()
	n.prepare()
	if image.Pt(s.plate.w, s.plate.h) != image.Pt(n.plate.w, n.plate.h) {
		t.Fatal("another size")
	}
	for i, v := range s.plate.rgb {
		if n.plate.rgb[i] != v {
			t.Fatalf("sample %d of the bare board: %d, restored %d", i, v, n.plate.rgb[i])
		}
	}
}
