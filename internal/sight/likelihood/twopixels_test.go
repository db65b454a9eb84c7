// SPDX-License-Identifier: Apache-2.0

package likelihood

import (
	"math"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
	"boardhand/internal/sight/silhouette"
)

// twoPixels is the smallest likelihood that can be reckoned by hand. A black
// pawn covered pixel 0 wholly and pixel 1 by half; the bare board under both has
// brightness 3 (all brightnesses as logarithms), no colour. What was seen before
// is 0 and 1; the sensor's noise is 0.05 at each pixel. There is no structure,
// no shadow, and the even colour of the board is not known here.
func twoPixels(seen [2]float32, black, white float32) *Observation {
	even := func(l ...float32) *pixels.Image {
		return &pixels.Image{W: 2, H: 1, Reduce: 1, L: l, A: make([]float32, 2), B: make([]float32, 2), Noise: []float32{0.05, 0.05}}
	}
	pawn := scene.Placement{Piece: chess.MakePiece(chess.Black, chess.Pawn), Reach: 1,
		Covers: []silhouette.Cover{{Pixel: 0, Alpha: 1}, {Pixel: 1, Alpha: 0.5}}}
	sc := &scene.Scene{
		Plane:   &pixels.Plane{W: 2, H: 1, Box: pixels.Box{X0: 0, Y0: 0, X1: 2, Y1: 1}},
		Pieces:  []scene.Placement{pawn},
		Grounds: []uint8{scene.NoGround, scene.NoGround},
	}
	m := &background.Model{
		Reference:  &background.Template{Image: even(0, 1)},
		Bare:       &background.Template{Image: even(3, 3)},
		Even:       &background.Template{Image: even(3, 3), Spread: make([]float32, 2)},
		Conditions: background.Conditions{OutlierDensity: 0.01},
	}
	sc.Restack()
	m.Appearance[chess.Black][0].Density = []float32{black}
	m.Appearance[chess.White][0].Density = []float32{white}
	g := &Observation{Scene: sc, Model: m, Image: even(seen[0], seen[1]), Conditions: m.Conditions, cells: make([]int32, 2)}
	g.expect(sc.Plane.Box)
	return g
}

// A pixel's difference from a memory has σ = 1.4 · 0.05 = 0.07 in brightness
// (both pictures are noisy) and 1.5 · 0.07 = 0.105 in each colour, so a picture
// one σ off in brightness has the density
//
//	n(1) = e^(−1/2) / ((2π)^(3/2) · 0.07 · 0.105²) = 49.90
//
// and one that agrees n(0) = 82.27. Of that 0.98 · 0.6 counts (2 pixels in 100
// follow no model, 4 in 10 lie in another light); on top comes an outlier's
// 0.02 · 0.01 = 0.0002, which is all that is left where the two do not agree.
//
//	seen bare (3.07 and 2.93):  the memory of the bare board  B = 0.588 · 49.90 + 0.0002 = 29.341
//	                            the memory of the last picture S = 0.0002
//	board as it was             0.65 S + 0.20 B + 0.15 · 0.0002 = 5.868
//	board laid open             0.50 B + 0.50 · 0.0002          = 14.671
//	the pawn as it was          0.93 S + 0.07 · black           = 0.0702 for black = 1
//
// Nothing changed: pixel 0 has 0.0702, pixel 1 half of that and half of 5.868:
// 2.969. Without the pawn they have 14.671, and half of 5.868 and half of
// 14.671: 10.269. A white pawn on pixel 0 gives it white = 3. The logarithms of
// the ratios are 5.342 and 1.241, or 3.755; a tenth of them counts:
//
//	the pawn has gone        0.6583 nats
//	a white one took it      0.4996 nats
//
// With black = 0.01 the first pixel would say 8.8, and is held at 6. Seen as
// before, the pawn as it was has 0.93 · (0.588 · 82.27 + 0.0002) + 0.07 = 45.06,
// and both pixels say that it has not gone.
func TestTwoPixelsByHand(t *testing.T) {
	normal := func(sigmas float64) float64 {
		return math.Exp(-sigmas*sigmas/2) / (math.Pow(2*math.Pi, 1.5) * 0.07 * 0.105 * 0.105)
	}
	const none = 0.02 * 0.01 // an outlier
	agrees := func(sigmas float64) float64 { return 0.98*0.6*normal(sigmas) + none }
	held := func(ratio float64) float64 { return max(-6, min(6, math.Log(ratio))) }
	nats := func(a, b float64) float64 { return 0.1 * (held(a) + held(b)) }

	bare := agrees(1)
	still, open := 0.65*none+0.20*bare+0.15*none, 0.50*bare+0.50*none
	stays := func(black float64) float64 { return 0.93*none + 0.07*black }
	nothing := 0.5*stays(1) + 0.5*still
	gone := 0.5*still + 0.5*open
	asBefore := 0.93*agrees(0) + 0.07*1
	shut := 0.65*agrees(0) + 0.20*none + 0.15*none // board as it was, seen as it was

	for _, c := range []struct {
		name         string
		seen         [2]float32
		black        float32
		come         bool
		want, quoted float64
	}{
		{"the pawn has gone", [2]float32{3.07, 2.93}, 1, false, nats(open/stays(1), gone/nothing), 0.6583},
		{"a white pawn took it", [2]float32{3.07, 2.93}, 1, true, nats(3/stays(1), gone/nothing), 0.4996},
		{"one pixel may not say more than six", [2]float32{3.07, 2.93}, 0.01, false, nats(open/stays(0.01), gone/(0.5*stays(0.01)+0.5*still)), 0.7252},
		{"nothing has changed", [2]float32{0, 1}, 1, false, nats(none/asBefore, (0.5*shut+0.5*none)/(0.5*asBefore+0.5*shut)), -0.6889},
	} {
		g := twoPixels(c.seen, c.black, 3)
		var come []scene.Placement
		if c.come {
			come = []scene.Placement{{Piece: chess.MakePiece(chess.White, chess.Pawn), Reach: 1, Covers: []silhouette.Cover{{Pixel: 0, Alpha: 1}}}}
		}
		got := float64(g.Weigh([]bool{true}, come))
		const quick = 1e-4 // the quick logarithm is good to that, and a tenth of four of them counts
		if math.Abs(got-c.want) > quick || math.Abs(c.want-c.quoted) > 1e-4 {
			t.Errorf("%s: %.5f nats, by hand %.5f, quoted %.4f", c.name, got, c.want, c.quoted)
		}
	}
}
