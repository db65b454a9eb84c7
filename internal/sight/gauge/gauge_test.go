// SPDX-License-Identifier: Apache-2.0

package gauge_test

import (
	"errors"
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
	"boardhand/internal/sight/gauge"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/twin"
)

// seenWithin is what a place may be off by, each coordinate, rms over a picture, m: as the manual says.
const seenWithin = 0.2e-3

type spot = frame.Spot[frame.Board]

// picture of pawns, and of nothing else, on a twin.
func picture(t *testing.T, r *rig.Rig, seed int64, at []spot) image.Image {
	t.Helper()
	o := twin.Options{Seed: seed, Pieces: make([]chess.Piece, 64)}
	for i := range o.Pieces {
		o.Pieces[i] = chess.NoPiece
	}
	for i := range at {
		o.Beside = append(o.Beside, twin.Aside{Piece: chess.MakePiece(chess.Black, chess.Pawn), At: &at[i]})
	}
	w, err := twin.New(r, o)
	if err != nil {
		t.Fatal(err)
	}
	p, err := w.Camera().Look(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return p.Image
}

// around are light squares' middles, each a few millimetres off.
func around(r *rig.Rig, rnd *rand.Rand) (out []spot) {
	for f := 0; f < 8; f += 2 {
		for k := 1; k < 8; k += 2 {
			out = append(out, r.Board.Centre(f, k).Add(spot{X: 0.004 * rnd.NormFloat64(), Y: 0.004 * rnd.NormFloat64()}))
		}
	}
	return out
}

// Pawns on a rendered board, whose profiles and shadows the gauge does not know, are found
// to a tenth of a millimetre or two, and their mean to 0.15 mm, from a start 5 mm off.
func TestPawnsAreMeasured(t *testing.T) {
	r := rig.Default()
	setup, err := sight.SetupFrom(r)
	if err != nil {
		t.Fatal(err)
	}
	for seed := int64(1); seed <= 2; seed++ {
		t.Log("seed", seed)
		at := around(r, rand.New(rand.NewPCG(uint64(seed), 0)))
		bare := picture(t, r, seed, nil)
		view, err := sight.FindBoard(setup, bare, nil)
		if err != nil {
			t.Fatal(err)
		}
		g := gauge.New(view, pixels.LumaOf(bare), view.Camera(), float64(r.Pieces.Of(chess.Pawn).Base))
		img := pixels.LumaOf(picture(t, r, seed, at))
		_, base := measure(t, g, img, at)
		g.Base, g.Fixed = base, true
		off, _ := measure(t, g, img, at)
		var mean spot
		sum := 0.0
		for _, d := range off {
			mean, sum = mean.Add(d.Scale(1/float64(len(off)))), sum+d.Dot(d)
		}
		rms := math.Sqrt(sum / float64(2*len(off)))
		t.Logf("off by %.3f mm each coordinate, %.3f, %.3f mm in the mean; the base shows %.2f mm", rms*1e3, mean.X*1e3, mean.Y*1e3, base*1e3)
		if rms > seenWithin || math.Abs(mean.X) > 0.17e-3 || math.Abs(mean.Y) > 0.17e-3 {
			t.Error("that is too much")
		}
		if _, err := g.Measure(img, spot{X: 0.02, Y: 0.02}, 5e-3); !errors.Is(err, gauge.ErrNotSeen) {
			t.Errorf("where nobody stands: %v", err)
		}
	}
}

// measure is how far off each pawn is found, and the middle diameter of their bases.
func measure(t *testing.T, g *gauge.Gauge, img *image.Gray, at []spot) (off []spot, base float64) {
	t.Helper()
	var bases []float64
	for _, p := range at {
		s, err := g.Measure(img, p.Add(spot{X: 3e-3, Y: -4e-3}), 12e-3)
		if err != nil {
			t.Fatalf("%v: %v", p, err)
		}
		off, bases = append(off, s.At.Sub(p)), append(bases, s.Base)
	}
	return off, numeric.Median(bases)
}
