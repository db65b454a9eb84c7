// SPDX-License-Identifier: Apache-2.0

package pixels

import (
	"image"
	"image/color"
	"testing"
)

// Every kind of picture gives the brightness image/color gives, to a level.
func TestLumaOfEveryKind(t *testing.T) {
	at := func(x, y int) color.NRGBA { return color.NRGBA{uint8(40 * x), uint8(60 * y), uint8(200 - 20*x), 255} }
	r := image.Rect(3, 2, 9, 6)
	rgba, nrgba, wide := image.NewRGBA(r), image.NewNRGBA(r), image.NewRGBA64(r)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			rgba.Set(x, y, at(x-3, y-2))
			nrgba.Set(x, y, at(x-3, y-2))
			wide.Set(x, y, at(x-3, y-2))
		}
	}
	for _, img := range []image.Image{rgba, nrgba, wide, rgba.SubImage(image.Rect(4, 3, 8, 6))} {
		g := LumaOf(img)
		b := img.Bounds()
		if g.Rect != image.Rect(0, 0, b.Dx(), b.Dy()) {
			t.Fatalf("%T: rectangle %v of %v", img, g.Rect, b)
		}
		for y := range b.Dy() {
			for x := range b.Dx() {
				want := color.GrayModel.Convert(img.At(b.Min.X+x, b.Min.Y+y)).(color.Gray).Y
				if d := int(g.GrayAt(x, y).Y) - int(want); d < -1 || d > 1 {
					t.Errorf("%T at %d %d: %d, want %d", img, x, y, g.GrayAt(x, y).Y, want)
				}
			}
		}
	}
}

// Grey pictures and JPEG's Y plane are shared, a part of them too.
func TestLumaOfSharesPlanes(t *testing.T) {
	g := image.NewGray(image.Rect(0, 0, 8, 8))
	g.SetGray(5, 4, color.Gray{77})
	if part := LumaOf(g.SubImage(image.Rect(3, 2, 8, 8))); part.GrayAt(2, 2).Y != 77 {
		t.Error("part of a grey picture is not where it should be")
	}
	j := image.NewYCbCr(image.Rect(0, 0, 8, 8), image.YCbCrSubsampleRatio420)
	j.Y[j.YOffset(6, 3)] = 99
	if l := LumaOf(j); l.GrayAt(6, 3).Y != 99 || &l.Pix[0] != &j.Y[0] {
		t.Error("the Y plane is not shared")
	}
	if part := LumaOf(j.SubImage(image.Rect(2, 2, 8, 8))); part.GrayAt(4, 1).Y != 99 {
		t.Error("part of a JPEG is not where it should be")
	}
}

// Averages keep an even field and a ramp.
func TestHalvedAndSmoothed(t *testing.T) {
	g := image.NewGray(image.Rect(0, 0, 21, 11))
	for y := range 11 {
		for x := range 21 {
			g.SetGray(x, y, color.Gray{uint8(10 + 4*x + 6*y)})
		}
	}
	h := Halved(g)
	if h.Rect != image.Rect(0, 0, 10, 5) {
		t.Fatalf("half of 21 × 11 is %v", h.Rect)
	}
	for y := range 5 {
		for x := range 10 { // the mean of four pixels lies at (2x + ½, 2y + ½)
			if got, want := int(h.GrayAt(x, y).Y), 10+8*x+12*y+5; got != want {
				t.Errorf("half at %d %d: %d, want %d", x, y, got, want)
			}
		}
	}
	s := Smoothed(g)
	for y := range 11 {
		for x := range 21 {
			if got, want := s.GrayAt(x, y).Y, g.GrayAt(x, y).Y; got != want {
				t.Errorf("smoothed ramp at %d %d: %d, want %d", x, y, got, want)
			}
		}
	}
	for _, r := range []image.Rectangle{image.Rect(0, 0, 0, 0), image.Rect(0, 0, 1, 1), image.Rect(0, 0, 2, 9)} {
		Halved(image.NewGray(r))
		Smoothed(image.NewGray(r))
	}
}
