// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/register"
	"boardhand/internal/sight/scene"
	"boardhand/internal/sight/silhouette"
	"boardhand/internal/sight/tracking"
)

// paintedBoard is a board with a little grain under a view, its edges as soft
// as a pixel: no pieces.
func paintedBoard(v optics.View, light func(x, y int) [3]float64, seed uint64) *image.RGBA {
	rng := rand.New(rand.NewPCG(seed, 1))
	img := image.NewRGBA(image.Rect(0, 0, 1280, 720))
	g := pixels.NewPlane(v, [2]int{1280, 720}, 1, 0.2)
	soft := func(t float64) float64 { // −1 and 1 in turn from square to square
		u := t / 0.04
		k := math.Floor(u + 0.5)
		s := math.Max(-1, math.Min(1, (u-k)*0.04/g.Pitch))
		if int(k)%2 != 0 {
			return -s
		}
		return s
	}
	for y := range 720 {
		for x := range 1280 {
			c := [3]float64{90, 100, 95}
			i := y*1280 + x
			ax, ay := float64(g.X[i]), float64(g.Y[i])
			if math.Abs(ax) < 0.16 && math.Abs(ay) < 0.16 {
				b := (1 + soft(ax)*soft(ay)) / 2
				c = [3]float64{110 + 80*b, 70 + 90*b, 45 + 75*b}
			}
			l := light(x, y)
			var p [3]uint8
			for k := range p {
				p[k] = uint8(math.Max(0, math.Min(255, c[k]*l[k]+2*rng.NormFloat64())))
			}
			img.SetRGBA(x, y, color.RGBA{p[0], p[1], p[2], 255})
		}
	}
	return img
}

func even(int, int) [3]float64 { return [3]float64{1, 1, 1} }

// TestRelight: another exposure, white balance and a lamp's falling off are
// taken out, with a quarter of the picture covered by something else.
func TestRelight(t *testing.T) {
	v := bumpedView(t)
	then := pixels.Reduce(paintedBoard(v, even, 1), 2)
	other := paintedBoard(v, func(x, y int) [3]float64 {
		fall := 0.8 + 0.1*float64(x)/1280 + 0.05*float64(y)/720
		return [3]float64{1.05 * fall, fall, 0.9 * fall}
	}, 2)
	for y := range 360 {
		for x := range 500 {
			other.SetRGBA(x, y, color.RGBA{200, 140, 110, 255}) // a sleeve
		}
	}
	now := pixels.Reduce(other, 2)
	e := tracking.New(tableSetup(), v, scene.Occupancy{}, nil)
	k := background.FitIllumination(now, func(int32) *pixels.Image { return then }, e.Samples)
	var l, c []float64
	for _, i := range e.Samples {
		if x, y := int(i)%now.W, int(i)/now.W; x < 255 && y < 185 {
			continue
		}
		ll, a, b := k.ApplyAt(now, int(i), now.PlaceAt(int(i)%now.W, int(i)/now.W))
		l = append(l, math.Abs(ll-float64(then.L[i])))
		c = append(c, math.Abs(a-float64(then.A[i]))+math.Abs(b-float64(then.B[i])))
	}
	if m := numeric.Median(l); m > 0.02 {
		t.Errorf("brightness is left %.3f off in the median", m)
	}
	if m := numeric.Median(c); m > 0.05 {
		t.Errorf("colours are left %.3f off in the median", m)
	}
}

// TestAlign: a bumped camera is followed to a small part of a pixel.
func TestAlign(t *testing.T) {
	v := bumpedView(t)
	e := tracking.New(tableSetup(), v, scene.Occupancy{}, nil)
	e.Frames[0] = pixels.Reduce(paintedBoard(v, even, 3), e.Plane.Reduce)
	for _, b := range []register.Motion{{}, {0.001, 0, 0, 0.0005, 0, 0}, {0.004, -0.003, 0.006, 0.002, 0.001, 0.002}, {0.01, 0.008, -0.02, 0, 0, 0}} {
		true1 := b.After(v)
		now := pixels.Reduce(paintedBoard(true1, even, 4), e.Plane.Reduce)
		got, _, good := e.Align(now, v)
		to := *e.Plane
		to.View = got
		worst := 0.0
		for _, c := range [4]frame.Spot[frame.Board]{{X: 0.16, Y: 0.16}, {X: -0.16, Y: 0.16}, {X: 0.16, Y: -0.16}, {X: -0.16, Y: -0.16}} {
			x0, y0, _ := to.Project(c.At(0))
			want := *e.Plane
			want.View = true1
			x1, y1, _ := want.Project(c.At(0))
			worst = math.Max(worst, math.Hypot(x1-x0, y1-y0))
		}
		if worst > 0.2 || good < register.Good {
			t.Errorf("after %v the corners are %.2f plate pixels off, agreement %.2f", b, worst, good)
		}
	}
}

// bumpedView is a lens with distortion over a small board, a little tilted.
func bumpedView(t *testing.T) optics.View {
	t.Helper()
	v, err := optics.Nominal([2]int{1280, 720}, 1.08, 0.6, "bottom")
	if err != nil {
		t.Fatal(err)
	}
	v.Lens.K1, v.Lens.K2 = -0.2, 0.03
	return register.Motion{0.03, -0.02, 0.05, 0.004, -0.003, 0}.After(v)
}

func tableSetup() scene.Setup {
	s := scene.Setup{Square: 0.04, Border: 0.012, Image: [2]int{1280, 720}, HFOV: 1.08, Height: 0.6, White: "bottom"}
	for k := chess.Pawn; k <= chess.King; k++ {
		s.Pieces[k] = silhouette.Shape{Height: 0.026 + 0.005*float64(k), Base: 0.015}
	}
	return s
}
