// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
)

// jolted turns the camera by a small rotation vector in its own frame.
func jolted(v optics.View, w [3]float64) optics.View {
	turn := frame.Pose[frame.Camera, frame.Camera]{R: frame.FromVector(w)}
	v.CameraFromBoard = frame.Compose(turn, v.CameraFromBoard)
	return v
}

// A camera that was not touched keeps its view; one bumped by up to a third of
// a square is found again within half a pixel RMS, and the bump is measured.
func TestTrackAfterABump(t *testing.T) {
	const seed = 51
	rnd := rand.New(rand.NewPCG(seed, 0))
	for k := range 3 {
		d, s := someDrawing(rand.New(rand.NewPCG(uint64(k), 9)), [2]int{640, 480})
		d.hand = false
		img := d.draw(t)
		before := d.view
		s.Prior = &before
		l, err := Track(img, s)
		if err != nil || l.Bumped || l.View != before {
			t.Errorf("case %d, still: bumped %v by %.2f px (stated %.2f), %v", k, l.Bumped, l.Moved, l.Sigma, err)
		}
		for _, share := range []float64{0.03, 0.1, 0.25} {
			step := share * s.Square / before.Camera().Z // radians a third of which are turn about the axis
			a := 2 * math.Pi * rnd.Float64()
			bumped := jolted(before, [3]float64{step * math.Cos(a), step * math.Sin(a), step / 3})
			s.Prior = &bumped
			want := moved(bumped, d.view, s.Square)
			l, err := Find(img, s)
			if err != nil {
				t.Errorf("case %d, bump of %.1f px: %v", k, want, err)
				continue
			}
			rms, _ := fieldMiss(l.View, d.view, s.Square)
			if rms > 0.5 || !l.Bumped || math.Abs(l.Moved-want) > 1 {
				t.Errorf("case %d, bump of %.1f px: RMS %.2f, says %v %.1f", k, want, rms, l.Bumped, l.Moved)
			}
		}
	}
}

// After a harder bump Track gives up and Find, told the lens, finds the board.
func TestLocateAfterAHardBump(t *testing.T) {
	d, s := someDrawing(rand.New(rand.NewPCG(2, 9)), [2]int{640, 480})
	d.hand = false
	img := d.draw(t)
	before := jolted(d.view, [3]float64{0.03, 0.12, 0.06})
	s.Prior = &before
	if l, err := Track(img, s); err == nil {
		if rms, _ := fieldMiss(l.View, d.view, s.Square); rms > 0.5 {
			t.Errorf("Track takes another square's corner: RMS %.1f px", rms)
		}
	}
	l, err := Find(img, s)
	if err != nil {
		t.Fatal(err)
	}
	if rms, _ := fieldMiss(l.View, d.view, s.Square); rms > 0.5 || !l.Bumped || l.Moved < 10 {
		t.Errorf("RMS %.2f px, bumped %v by %.1f px", rms, l.Bumped, l.Moved)
	}
}

func TestTrackRefuses(t *testing.T) {
	d, s := someDrawing(rand.New(rand.NewPCG(1, 9)), [2]int{640, 480})
	if _, err := Track(flatGrey(640, 480, 128, 50), s); err == nil {
		t.Error("tracks without an earlier view")
	}
	s.Prior = &d.view
	for name, level := range map[string]float64{"noise": 128, "lens cap": 2} {
		if l, err := Track(flatGrey(640, 480, level, level/3), s); err == nil {
			t.Errorf("tracks on %s: %+v", name, l)
		}
	}
}
