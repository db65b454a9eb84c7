// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"context"
	"errors"
	"image"
	"testing"

	"boardhand/internal/photo"
)

// lookOn looks n times at a board that nobody touches.
func lookOn(t *testing.T, n int, seed int64, see func(*World, photo.Picture), faults ...Fault) {
	t.Helper()
	r := small()
	w, err := New(r, Options{Seed: seed, Visitor: true, Faults: faults})
	must(t, err)
	for range n {
		p, err := w.Camera().Look(context.Background())
		if errors.Is(err, ErrNoPicture) {
			p = photo.Picture{}
		} else {
			must(t, err)
		}
		see(w, p)
	}
}

// brightness is the mean luma of the bare centre of every square of the
// middle ranks, in reading order.
func brightness(w *World, img image.Image) (out [32]float64) {
	for i := range out {
		at := spot{X: (float64(i%8) - 3.5) * float64(w.rig.Board.Square), Y: (float64(i/8) - 1.5) * float64(w.rig.Board.Square)}
		px, _ := w.studio.View().Project(at.At(0))
		out[i] = luma(img, px.X, px.Y)
	}
	return out
}

// differ counts the squares that differ by more than a quarter
// from the first picture.
func differ(before, now [32]float64) (darker, brighter int) {
	for i := range now {
		switch r := (now[i] + 1) / (before[i] + 1); {
		case r < 0.8:
			darker++
		case r > 1.25:
			brighter++
		}
	}
	return darker, brighter
}

// sweep looks 120 times and returns in how many pictures squares were darker
// and brighter than in the first, and the most of them.
func sweep(t *testing.T, seed int64, faults ...Fault) (dark, bright, mostDark, mostBright int) {
	t.Helper()
	var first [32]float64
	lookOn(t, 120, seed, func(w *World, p photo.Picture) {
		now := brightness(w, p.Image)
		if p.Name == "000000" {
			first = now
			return
		}
		d, b := differ(first, now)
		if d > 0 {
			dark++
		}
		if b > 0 {
			bright++
		}
		mostDark, mostBright = max(mostDark, d), max(mostBright, b)
		if w.person.Hand().IsOut {
			t.Fatal("a hand is over the board")
		}
	}, faults...)
	return dark, bright, mostDark, mostBright
}

func TestBodyShadowDarkensABroadPart(t *testing.T) {
	most := 0
	for seed := int64(1); seed <= 4; seed++ {
		dark, _, squares, _ := sweep(t, seed, BodyShadow)
		if dark < 5 || dark > 110 {
			t.Errorf("seed %d: %d of 120 pictures are in shadow", seed, dark)
		}
		if most = max(most, squares); squares < 4 {
			t.Errorf("seed %d: at most %d squares are in shadow", seed, squares)
		}
		if dark, bright, _, _ := sweep(t, seed); dark+bright > 0 {
			t.Errorf("seed %d: %d darker and %d brighter pictures without a fault", seed, dark, bright)
		}
	}
	t.Logf("at most %d of 32 squares", most)
}

func TestGlareIsBrightAndWanders(t *testing.T) {
	for seed := int64(1); seed <= 3; seed++ {
		_, bright, _, squares := sweep(t, seed, Glare)
		if bright < 5 || bright > 115 || squares > 16 {
			t.Errorf("seed %d: %d of 120 pictures glare, on up to %d squares", seed, bright, squares)
		}
	}
}

// A low lamp stays where it is.
func TestLowLampIsSteady(t *testing.T) {
	if dark, _, _, _ := sweep(t, 2, LowLamp); dark > 0 {
		t.Errorf("the shadows of a low lamp come and go: %d pictures", dark)
	}
}

// The faults of the pictures leave the mechanics and the guest as they were.
func TestOpticalFaultsMoveNothing(t *testing.T) {
	all := []Fault{BodyShadow, LowLamp, Glare, PictureFrozen}
	places := func(faults ...Fault) (out []spot) {
		w, err := New(small(), Options{Seed: 9, Faults: faults})
		must(t, err)
		tell(t, w, yourMove)
		looks(t, w)
		for _, m := range w.Truth().Pieces {
			out = append(out, m.At)
		}
		return out
	}
	a, b := places(), places(all...)
	for i := range a {
		if a[i] != b[i] {
			t.Fatalf("piece %d stands at %v and at %v", i, a[i], b[i])
		}
	}
}
