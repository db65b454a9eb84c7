// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"errors"
	"image"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/pixels"
)

// drawnCases is how many drawn pictures the normal test looks at;
// BOARDHAND_DRAWN asks for more.
func drawnCases(t *testing.T) uint64 {
	n, err := strconv.ParseUint(os.Getenv("BOARDHAND_DRAWN"), 10, 32)
	if err != nil {
		return 6
	}
	return n
}

// The board is found from the nominal values alone – height 4 % and field of
// view 2.5 degrees wrong, any side, turned by 20 degrees, tilted by 6, k1 to
// −0.3, pieces, shadow, wood, cloth, noise, JPEG – and every corner of the field
// lies within half a pixel RMS. A hand may hide too much to say where the
// field is; then it must say so, not hypothesis.
func TestLocateDrawnBoards(t *testing.T) {
	sizes := [][2]int{{640, 480}, {640, 480}, {800, 600}, {480, 360}}
	for seed := range drawnCases(t) {
		d, s := someDrawing(rand.New(rand.NewPCG(seed, 7)), sizes[seed%4])
		l, err := Find(d.draw(t), s)
		if err != nil {
			if !d.hand {
				t.Errorf("seed %d: %v", seed, err)
			}
			continue
		}
		rms, worst := fieldMiss(l.View, d.view, s.Square)
		if rms > 0.5 || worst > 1.5 || worst > 6*l.Sigma {
			t.Errorf("seed %d: field corners %.2f px RMS off, worst %.2f, stated %.2f", seed, rms, worst, l.Sigma)
		}
		if h := l.View.Camera().Z - d.view.Camera().Z; h > 4*l.HeightSigma || h < -4*l.HeightSigma {
			t.Errorf("seed %d: height off by %.1f mm, stated %.1f", seed, h*1e3, l.HeightSigma*1e3)
		}
		if l.Corners < leastCorners || l.Agreement < 0.85 || l.RMS > 0.5 || l.Bumped || l.Moved != 0 {
			t.Errorf("seed %d: %+v", seed, l)
		}
		t.Logf("seed %d: RMS %.3f worst %.3f stated %.3f, corners %d", seed, rms, worst, l.Sigma, l.Corners)
	}
}

// Each of the four sides and each turn between, on one clean board.
func TestLocateEverySide(t *testing.T) {
	for k, side := range []string{"bottom", "left", "top", "right"} {
		rnd := rand.New(rand.NewPCG(uint64(k), 8))
		d, s := someDrawing(rnd, [2]int{640, 480})
		v, err := optics.Nominal(d.image, s.HFOV, s.Height, side)
		if err != nil {
			t.Fatal(err)
		}
		v.Lens.Fx, v.Lens.Fy = d.view.Lens.Fx, d.view.Lens.Fy
		v.CameraFromBoard.R = frame.FromVector([3]float64{0.03, -0.02, []float64{0.6, -0.6, 0.4, -0.3}[k]}).Mul(v.CameraFromBoard.R)
		d.view, d.hand, s.WhiteSide = v, false, side
		d.aim()
		l, err := Find(d.draw(t), s)
		if err != nil {
			t.Errorf("white %s: %v", side, err)
			continue
		}
		if rms, worst := fieldMiss(l.View, d.view, s.Square); rms > 0.5 {
			t.Errorf("white %s: field corners %.2f px RMS off, worst %.2f", side, rms, worst)
		}
	}
}

// flatGrey is an even picture with some noise.
func flatGrey(w, h int, level, noise float64) *image.Gray {
	rnd := rand.New(rand.NewPCG(31, 0))
	g := image.NewGray(image.Rect(0, 0, w, h))
	for i := range g.Pix {
		g.Pix[i] = uint8(max(0, min(255, level+noise*rnd.NormFloat64())))
	}
	return g
}

// A lens cap, a wall, noise, stripes, another size, nothing: a reason each.
func TestLocateRefuses(t *testing.T) {
	s := Setup{Square: 0.032, Border: 0.015, Image: [2]int{640, 480}, HFOV: 1.08, Height: 0.6, WhiteSide: "bottom"}
	stripes, squares := image.NewGray(image.Rect(0, 0, 640, 480)), image.NewGray(image.Rect(0, 0, 640, 480))
	for i := range stripes.Pix {
		x, y := i%640, i/640
		stripes.Pix[i] = uint8(60 + 120*(x/30%2))
		squares.Pix[i] = uint8(60 + 120*((x/29+y/29)%2))
	}
	for _, c := range []struct {
		name string
		img  *image.Gray
		want error
	}{
		{"lens cap", flatGrey(640, 480, 3, 1.5), pixels.ErrDark},
		{"wall", flatGrey(640, 480, 140, 1.5), pixels.ErrBlank},
		{"noise", flatGrey(640, 480, 128, 60), ErrNoBoard},
		{"stripes", stripes, ErrNoBoard},
		{"chequer from edge to edge", squares, ErrNoBoard},
		{"nothing", nil, pixels.ErrBlank},
	} {
		l, err := Find(c.img, s)
		if !errors.Is(err, c.want) {
			t.Errorf("%s: %+v, %v; want %v", c.name, l, err, c.want)
		}
	}
	if _, err := Find(flatGrey(320, 240, 100, 40), s); err == nil {
		t.Error("takes a picture of another size")
	}
	for _, bad := range []func(*Setup){func(s *Setup) { s.Square = 0 }, func(s *Setup) { s.WhiteSide = "north" },
		func(s *Setup) { s.HFOV = 0 }, func(s *Setup) { s.Height = -1 }} {
		b := s
		bad(&b)
		if _, err := Find(flatGrey(640, 480, 128, 60), b); err == nil {
			t.Errorf("takes the setup %+v", b)
		}
	}
}

// Pictures of other things, checkerboards of 10 × 7 squares among them.
func TestLocateRefusesSamplePictures(t *testing.T) {
	names, _ := referenceCorners(t)
	for _, name := range append(names[:4], "fruits.jpg", "building.jpg", "sudoku.png", "lena.jpg", "home.jpg") {
		path := filepath.Join(samplePictures, name)
		if _, err := os.Stat(path); err != nil && name[:4] != "left" {
			continue // not every version of the package has them all
		}
		img := pixels.LumaOf(openPicture(t, path))
		s := Setup{Square: 0.032, Border: 0.015, Image: [2]int{img.Rect.Dx(), img.Rect.Dy()}, HFOV: 1.08, WhiteSide: "left"}
		for _, s.Height = range []float64{0.45, 0.6, 0.8} {
			if l, err := Find(img, s); err == nil {
				t.Errorf("finds a board on %s: %+v", name, l)
			}
		}
	}
}

// Half a board – its centre on the picture's edge – is not called a board.
func TestLocateHalfABoard(t *testing.T) {
	d, s := someDrawing(rand.New(rand.NewPCG(41, 7)), [2]int{640, 480})
	d.hand = false
	for i := range d.pieces {
		d.pieces[i] = 0
	}
	d.view.CameraFromBoard.T.X += float64(d.image[0]) / 2 / d.view.Lens.Fx * d.view.CameraFromBoard.T.Z
	if l, err := Find(d.draw(t), s); !errors.Is(err, ErrPart) && !errors.Is(err, ErrWhere) && !errors.Is(err, ErrNoBoard) {
		t.Errorf("half a board: %+v, %v", l, err)
	}
}

// Small, odd and noisy pictures give a reason, never a panic.
func TestLocateOddPictures(t *testing.T) {
	const seed = 61
	rnd := rand.New(rand.NewPCG(seed, 0))
	for range 60 {
		w, h := 1+rnd.IntN(150), 1+rnd.IntN(150)
		g := flatGrey(w, h, 255*rnd.Float64(), 90*rnd.Float64())
		s := Setup{Square: 0.001 + 0.1*rnd.Float64(), Image: [2]int{w, h}, HFOV: 0.1 + 2.5*rnd.Float64(),
			Height: 0.05 + 2*rnd.Float64(), WhiteSide: "right"}
		if l, err := Find(g, s); err == nil {
			t.Errorf("seed %d: finds a board in %d × %d pixels of noise: %+v", seed, w, h, l)
		}
		v, err := optics.Nominal(s.Image, s.HFOV, s.Height, "left")
		if err != nil {
			t.Fatal(err)
		}
		s.Prior = &v
		if l, err := Find(g, s); err == nil {
			t.Errorf("seed %d: tracks a board in %d × %d pixels of noise: %+v", seed, w, h, l)
		}
	}
}

// Wood whose light and dark fields differ by twelve levels of 255.
func TestLocateFaintWood(t *testing.T) {
	d, s := someDrawing(rand.New(rand.NewPCG(1, 77)), [2]int{640, 480})
	d.hand, d.light, d.edge, d.grain = false, d.dark+12, d.dark+5, 1.8
	l, err := Find(d.draw(t), s)
	if err != nil {
		t.Fatal(err)
	}
	if rms, _ := fieldMiss(l.View, d.view, s.Square); rms > 0.5 {
		t.Errorf("field corners %.2f px RMS off", rms)
	}
}

// A lens that was measured is taken for the same wherever the camera has turned to since, and for
// another one where it bends otherwise.
func TestThroughTheMeasuredLens(t *testing.T) {
	for _, k := range []uint64{10, 13, 35} {
		d, s := someDrawing(rand.New(rand.NewPCG(k, 9)), [2]int{640, 480})
		d.hand = false
		img := d.draw(t)
		before := jolted(d.view, [3]float64{0.006, -0.005, 0.03}) // 1.7 degrees about its axis
		s.Prior = &before
		l, err := FindThrough(img, s)
		if err != nil || math.Abs(l.View.Lens.K1-d.view.Lens.K1) > 1e-9 {
			t.Errorf("case %d: the lens bends by %v and not as it was measured, by %v (%v)", k, l.View.Lens.K1, d.view.Lens.K1, err)
		}
		if rms, _ := fieldMiss(l.View, d.view, s.Square); rms > 0.1 {
			t.Errorf("case %d: the field's corners are off by %.3f px", k, rms)
		}
		before.Lens.K1 += 0.6
		if l, err := FindThrough(img, s); err != nil || math.Abs(l.View.Lens.K1-before.Lens.K1) < 0.1 {
			t.Errorf("case %d: another lens is taken for the same (%v)", k, err)
		}
	}
}
