// SPDX-License-Identifier: Apache-2.0

package heads

import (
	"errors"
	"image"
	"math"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
)

// turned is a set of pieces as they are sold.
func turned() *Set {
	var s Set
	for k, h := range map[chess.Kind]float64{chess.Pawn: 28e-3, chess.Knight: 38e-3, chess.Bishop: 42e-3, chess.Rook: 34e-3, chess.Queen: 48e-3, chess.King: 52e-3} {
		s.Height[k], s.Base[k] = h, 20e-3
	}
	return &s
}

// waves is a pattern on a plane, brightness 0–255 at a place in metres.
func waves(p frame.Spot[frame.Board]) float64 {
	return 128 + 60*math.Sin(p.X/3e-3) + 50*math.Cos(p.Y/4e-3)
}

// TestCutShowsThePlane: a pattern painted, ray by ray, on the plane of the
// heads is found again in the crop where the crop's frame says: rows along the
// lean, outwards first, columns across it. The picture is made through the
// inverse of what Cut uses, pixel to plane instead of plane to pixel.
func TestCutShowsThePlane(t *testing.T) {
	v, err := optics.Nominal([2]int{1280, 720}, 60*math.Pi/180, 0.55, "left")
	if err != nil {
		t.Fatal(err)
	}
	v.Lens.K1 = -0.2
	s := turned()
	height, base := s.mean()
	img := image.NewGray(image.Rect(0, 0, 1280, 720))
	for k := range img.Pix {
		p, err := v.OnPlane(frame.Spot[frame.Image]{X: float64(k % 1280), Y: float64(k / 1280)}, plane*height)
		if err == nil {
			img.Pix[k] = uint8(math.Round(waves(p)))
		}
	}
	for _, foot := range []frame.Spot[frame.Board]{{X: 0.11, Y: 0.11}, {X: -0.11, Y: 0.02}, {X: 0, Y: 0}} {
		c, err := s.Cut(img, v, foot, Side, Share)
		if err != nil {
			t.Fatal(err)
		}
		out := frame.Spot[frame.Board]{Y: 1}
		if foot.Norm() > 0 {
			out = foot.Scale(1 / foot.Norm())
		}
		unit, sum := 2*Share*base/Side, 0.0
		for k, got := range c.Grey {
			a, o := (float64(k%Side)-(Side-1)/2.0)*unit, ((Side-1)/2.0-float64(k/Side))*unit
			want := waves(foot.Add(out.Scale(o)).Add(frame.Spot[frame.Board]{X: out.Y, Y: -out.X}.Scale(a)))
			sum += (float64(got) - want) * (float64(got) - want)
		}
		if rms := math.Sqrt(sum / float64(len(c.Grey))); rms > 2.5 { // of 255: rounding, and waves of 7 samples averaged over one
			t.Errorf("foot at %v: the crop is off by %.1f levels RMS", foot, rms)
		}
	}
}

// The measures that go with a crop: how far the heads lean, in bases. A king of
// 52 mm at 155.6 mm under a camera at 550 mm leans 155.6·52/(550−52) = 16.2 mm.
func TestCutMeasures(t *testing.T) {
	v, err := optics.Nominal([2]int{1280, 720}, 60*math.Pi/180, 0.55, "bottom")
	if err != nil {
		t.Fatal(err)
	}
	c, err := turned().Cut(image.NewGray(image.Rect(0, 0, 1280, 720)), v, frame.Spot[frame.Board]{X: 0.11, Y: 0.11}, Side, Share)
	if err != nil {
		t.Fatal(err)
	}
	if king := float64(c.Extra[5]) * 20; math.Abs(king-16.24) > 0.02 {
		t.Errorf("the king leans %.2f mm, want 16.24", king)
	}
	if c.Extra[6] != 1 {
		t.Errorf("a pawn's foot is %g of the officers', want 1", c.Extra[6])
	}
}

// TestCutNowhere: a piece whose head is not in the picture is not cut.
func TestCutNowhere(t *testing.T) {
	v, err := optics.Nominal([2]int{640, 480}, 60*math.Pi/180, 0.55, "bottom")
	if err != nil {
		t.Fatal(err)
	}
	_, err = turned().Cut(image.NewGray(image.Rect(0, 0, 640, 480)), v, frame.Spot[frame.Board]{X: 0.5}, Side, Share)
	if !errors.Is(err, ErrOutside) {
		t.Errorf("got %v, want %v", err, ErrOutside)
	}
}

// TestBetween: pixels as they are, between them their mean, beyond the rim its own.
func TestBetween(t *testing.T) {
	g := image.NewGray(image.Rect(0, 0, 4, 4))
	g.Pix[2*g.Stride+3], g.Pix[2*g.Stride+2] = 77, 33
	for x, want := range map[float64]float64{3: 77, 2.5: 55, 9: 77} {
		if got := between(g, frame.Spot[frame.Image]{X: x, Y: 2}); got != want {
			t.Errorf("at (%g, 2): %g, want %g", x, got, want)
		}
	}
}
