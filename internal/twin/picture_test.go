// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"context"
	"image"
	"math"
	"os"
	"path/filepath"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/rig"
	"boardhand/internal/twin/physics"
)

// TWIN_PICTURES names a directory for pictures to look at.
func TestPicturesToLookAt(t *testing.T) {
	dir := os.Getenv("TWIN_PICTURES")
	if dir == "" {
		t.Skip("set TWIN_PICTURES to a directory to get pictures")
	}
	for seed := int64(1); seed <= 3; seed++ {
		w, err := New(rig.Default(), Options{Seed: seed})
		must(t, err)
		ctx := context.Background()
		must(t, w.Guest().Tell(ctx, notice.Notice{Kind: notice.YourMove}))
		for i := range 4 {
			p, err := w.Camera().Look(ctx)
			must(t, err)
			name := filepath.Join(dir, string([]byte{'s', byte('0' + seed), '-', byte('0' + i)})+".jpg")
			must(t, os.WriteFile(name, p.JPEG, 0o644))
		}
	}
}

func BenchmarkLookSettled(b *testing.B) {
	w, err := New(rig.Default(), Options{Seed: 1})
	must(b, err)
	_, err = w.Camera().Look(context.Background())
	must(b, err)
	for b.Loop() {
		_, err = w.Camera().Look(context.Background())
		must(b, err)
	}
}

// The picture shows what is true: where a piece's head must be seen by the
// view's arithmetic there is a piece's colour, and where squares are empty there
// is the board's.
func TestPictureShowsTheTruth(t *testing.T) {
	for seed := int64(1); seed <= 2; seed++ {
		w, err := New(rig.Default(), Options{Seed: seed})
		must(t, err)
		p, err := w.Camera().Look(context.Background())
		must(t, err)
		bare := bareBoard(t, seed)
		for i, m := range w.Truth().Pieces {
			d, h := 0.0, w.table.Pieces[i].Height
			for _, share := range [4]float64{0.15, 0.4, 0.65, 0.9} {
				d = max(d, difference(t, w, p.Image, bare, m.At.At(h*share)))
			}
			if d < 15 {
				t.Errorf("seed %d: %v on %v is not seen: %.0f display steps from the bare board", seed, m.Piece, m.Square, d)
			}
		}
		for s := chess.Square(24); s < 32; s++ { // the fourth rank
			if d := difference(t, w, p.Image, bare, w.table.Centre(s).At(0)); d > 12 {
				t.Errorf("seed %d: %v is empty but %.0f display steps from the bare board", seed, s, d)
			}
		}
	}
}

// bareBoard is the same machine with all pieces taken away.
func bareBoard(t *testing.T, seed int64) image.Image {
	w, err := New(rig.Default(), Options{Seed: seed})
	must(t, err)
	for _, b := range w.table.Pieces {
		b.Place = physics.Gone
	}
	p, err := w.Camera().Look(context.Background())
	must(t, err)
	return p.Image
}

// difference is the largest difference of the channels of two pictures around
// the pixel of a place, after the same place's neighbourhood is averaged.
func difference(t *testing.T, w *World, a, b image.Image, at frame.Point[frame.Board]) float64 {
	t.Helper()
	px, ok := w.studio.View().Project(at)
	if !ok {
		t.Fatalf("%v is out of the lens's field", at)
	}
	ca, cb := patch(a, int(px.X+0.5), int(px.Y+0.5)), patch(b, int(px.X+0.5), int(px.Y+0.5))
	most := 0.0
	for k := range ca {
		most = max(most, math.Abs(ca[k]-cb[k]))
	}
	return most
}

func patch(img image.Image, x, y int) (c [3]float64) {
	for j := -1; j <= 1; j++ {
		for i := -1; i <= 1; i++ {
			r, g, b, _ := img.At(x+i, y+j).RGBA()
			for k, v := range [3]uint32{r, g, b} {
				c[k] += float64(v>>8) / 9
			}
		}
	}
	return c
}

// The square corners of the picture lie where the view's arithmetic puts them:
// light changes to dark across each of the sides that meet there.
func TestCornersLieWhereTheViewSays(t *testing.T) {
	for seed := int64(1); seed <= 2; seed++ {
		w, err := New(rig.Default(), Options{Seed: seed, FEN: "7k/8/8/8/8/8/8/K7 w - - 0 1"})
		must(t, err)
		p, err := w.Camera().Look(context.Background())
		must(t, err)
		sq := float64(w.rig.Board.Square)
		for f := -3.0; f <= 3; f++ {
			for r := -2.0; r <= 2; r++ {
				at := spot{X: f * sq, Y: r * sq}
				px, ok := w.studio.View().Project(at.At(w.table.Height(at)))
				if !ok {
					t.Fatal("out of the field")
				}
				if off := saddle(p.Image, px.X, px.Y); off > 0.75 {
					t.Errorf("seed %d: the corner at (%g, %g) is %.2f px from where it should be", seed, f, r, off)
				}
			}
		}
	}
}

// saddle finds the corner of four squares near (u, v) as the place where the
// picture is most nearly odd under a half turn, on a quarter-pixel grid.
func saddle(img image.Image, u, v float64) float64 {
	best, where := math.Inf(1), 0.0
	for dv := -2.0; dv <= 2; dv += 0.25 {
		for du := -2.0; du <= 2; du += 0.25 {
			sum := 0.0
			for _, r := range [2]float64{5, 8} {
				for k := range 12 {
					a := float64(k) * math.Pi / 12
					x, y := r*math.Cos(a), r*math.Sin(a)
					d := luma(img, u+du+x, v+dv+y) - luma(img, u+du-x, v+dv-y)
					sum += d * d
				}
			}
			if sum < best {
				best, where = sum, math.Hypot(du, dv)
			}
		}
	}
	return where
}

// luma is the brightness between pixels.
func luma(img image.Image, x, y float64) float64 {
	i, j := int(math.Floor(x)), int(math.Floor(y))
	tx, ty := x-float64(i), y-float64(j)
	at := func(i, j int) float64 { return float64(img.(*image.YCbCr).Y[img.(*image.YCbCr).YOffset(i, j)]) }
	return (1-ty)*((1-tx)*at(i, j)+tx*at(i+1, j)) + ty*((1-tx)*at(i, j+1)+tx*at(i+1, j+1))
}

func TestHandCoversThePicture(t *testing.T) {
	w, err := New(rig.Default(), Options{Seed: 2})
	must(t, err)
	ctx := context.Background()
	before, err := w.Camera().Look(ctx)
	must(t, err)
	must(t, w.Guest().Tell(ctx, notice.Notice{Kind: notice.YourMove}))
	busy, err := w.Camera().Look(ctx)
	must(t, err)
	after, err := w.Camera().Look(ctx)
	must(t, err)
	if n := changed(before.Image, busy.Image); n < 0.01 {
		t.Errorf("the hand changed %.2f %% of the picture", n*100)
	}
	if n := changed(before.Image, after.Image); n > 0.01 || n == 0 {
		t.Errorf("after a move %.2f %% of the picture is another", n*100)
	}
}

// changed is the share of pixels whose brightness differs by more than noise.
func changed(a, b image.Image) float64 {
	x, y := a.(*image.YCbCr), b.(*image.YCbCr)
	n := 0
	for i := range x.Y {
		if math.Abs(float64(x.Y[i])-float64(y.Y[i])) > 25 {
			n++
		}
	}
	return float64(n) / float64(len(x.Y))
}
