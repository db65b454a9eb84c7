// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/photo"
)

// withThing is a picture of the gate's games on which a black disc with a shadow of its own,
// as wide as a piece, is painted in the middle of d4: a thing that might be a piece.
func withThing(t *testing.T, name string) image.Image {
	t.Helper()
	f, err := os.Open(filepath.Join(gateGames, "gate54", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	from, err := jpeg.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	img := image.NewRGBA(from.Bounds())
	draw.Draw(img, img.Bounds(), from, image.Point{}, draw.Src)
	disc := func(x0, y0 int, paint func(c color.RGBA, r float64) color.RGBA) {
		const radius = 21
		for y := -radius; y <= radius; y++ {
			for x := -radius; x <= radius; x++ {
				if r := math.Hypot(float64(x), float64(y)); r < radius {
					img.SetRGBA(x0+x, y0+y, paint(img.RGBAAt(x0+x, y0+y), r))
				}
			}
		}
	}
	for _, at := range [2][2]int{{698, 421}, {684, 410}} {
		disc(at[0], at[1], func(c color.RGBA, _ float64) color.RGBA {
			return color.RGBA{c.R / 2, c.G / 2, c.B / 2, 255}
		})
	}
	disc(670, 400, func(_ color.RGBA, r float64) color.RGBA {
		if r > 9 && r < 12 {
			return color.RGBA{80, 80, 80, 255}
		}
		return color.RGBA{20, 20, 20, 255}
	})
	return img
}

// TestThingThatStays: a thing that might be a piece has the first picture refused, for the
// board must be as was said; but once a move has been played around it, that is read, and the
// thing is told of.
func TestThingThatStays(t *testing.T) {
	s, err := readScene(filepath.Join(gateGames, "gate54"))
	if err != nil {
		t.Fatal(err)
	}
	r := NewReader(s.setup)
	r.Begin(s.start)
	for range 2 { // it does not become less strange by being looked at again
		got, err := r.Read(context.Background(), photo.Picture{Image: withThing(t, "frame_0001.jpg")})
		if err != nil || got.State != Illegal || len(got.Squares) != 1 || chess.SquareNames(got.Squares)[0] != "d4" {
			t.Fatalf("the first picture is read as %v %v, %v", got.State, got.Squares, err)
		}
	}
	got, err := r.Read(context.Background(), photo.Picture{Image: withThing(t, s.frames[1].Frame)})
	if err != nil || got.State != Moved || got.Move.String() != s.frames[1].Move {
		t.Fatalf("%s is read as %v %v %v, %v", s.frames[1].Move, got.State, got.Move, got.Squares, err)
	}
	if told := r.Found(); len(told) != 1 || !strings.Contains(told[0], "d4") {
		t.Errorf("the reader tells %q", told)
	}
	if err := r.Accept(got.Move); err != nil {
		t.Fatal(err)
	}
	got, err = r.Read(context.Background(), photo.Picture{Image: withThing(t, s.frames[1].Frame)})
	if err != nil || got.State != Same {
		t.Errorf("the same board is read as %v %v, %v", got.State, got.Squares, err)
	}
}

// TestLowLamp: lamplight between the long shadows of a low lamp is no piece too many, whether
// the first move is seen or not.
func TestLowLamp(t *testing.T) {
	s, err := readScene(filepath.Join("testdata", "lowlamp"))
	if err != nil {
		t.Fatal(err)
	}
	for _, lost := range []int{-1, 1} {
		var c alone
		c.read(t, s, func(n int, _ truth) fate {
			if n == lost {
				return deleted
			}
			return kept
		})
		if c.tell(t); c.wrong > 0 || c.agreed < c.settled {
			t.Errorf("%d of %d positions are right, %d wrong", c.agreed, c.settled, c.wrong)
		}
	}
}
