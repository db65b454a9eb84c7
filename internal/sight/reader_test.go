// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/photo"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
)

// game opens the rendered game of the test data.
func game(t *testing.T) *recording {
	t.Helper()
	s, err := readScene(filepath.Join("testdata", "games", "plastic"))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func (s *recording) picture(t testing.TB, k int) photo.Picture {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(s.dir, s.frames[k].Frame))
	if err != nil {
		t.Fatal(err)
	}
	return photo.Picture{Name: s.frames[k].Frame, JPEG: data}
}

// TestGames reads the rendered games of the test data: every picture right.
func TestGames(t *testing.T) {
	dirs, err := filepath.Glob(filepath.Join("testdata", "games", "*"))
	if err != nil || len(dirs) == 0 {
		t.Fatalf("no games in testdata: %v", err)
	}
	c := newScore()
	for _, d := range dirs {
		s, err := readScene(d)
		if err != nil {
			t.Fatal(err)
		}
		c.follow(t, s, false)
	}
	c.report(t)
	if c.moves == 0 || c.right != c.moves || c.wrong > 0 || len(c.worst) > 0 {
		t.Errorf("not every picture of the test data is read right")
	}
	if m := quantile(c.offsets, 0.5); !(m < 1) {
		t.Errorf("offsets are wrong by %.2f mm in the median; 1 mm is the aim", m)
	}
}

// TestBrokenPictures: one clear error each, the reader as it was.
func TestBrokenPictures(t *testing.T) {
	s := game(t)
	good := s.picture(t, 0)
	noise := image.NewRGBA(image.Rect(0, 0, s.setup.Image[0], s.setup.Image[1]))
	rng := rand.New(rand.NewPCG(7, 7))
	for i := range noise.Pix {
		noise.Pix[i] = uint8(rng.UintN(256))
	}
	even := func(c color.Color) image.Image {
		return image.NewPaletted(image.Rect(0, 0, s.setup.Image[0], s.setup.Image[1]), color.Palette{c})
	}
	cases := []struct {
		name string
		p    photo.Picture
		want string
	}{
		{"empty", photo.Picture{}, "empty"},
		{"text", photo.Picture{JPEG: []byte("not a picture")}, "broken"},
		{"truncated", photo.Picture{JPEG: good.JPEG[:len(good.JPEG)/2]}, "broken"},
		{"small", photo.Picture{Image: image.NewGray(image.Rect(0, 0, 64, 64))}, "camera.image"},
		{"cap", photo.Picture{Image: even(color.Gray{3})}, pixels.ErrDark.Error()},
		{"wall", photo.Picture{Image: even(color.Gray{140})}, pixels.ErrBlank.Error()},
		{"noise", photo.Picture{Image: noise}, ""},
	}
	for _, seen := range []bool{false, true} {
		r := NewReader(s.setup)
		r.Begin(s.start)
		if seen {
			if got, err := r.Read(context.Background(), good); err != nil || got.State != Same {
				t.Fatalf("first picture: %v, %v", got, err)
			}
		}
		for _, c := range cases {
			c.p.Name = c.name + ".jpg"
			before := r.Offsets()
			got, err := r.Read(context.Background(), c.p)
			if err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), c.p.Name) || strings.Contains(err.Error(), "\n") {
				t.Errorf("%s (board seen before: %v): %v, error %v; want one line with %q", c.name, seen, got, err, c.want)
			}
			if r.Position() != s.start || !reflect.DeepEqual(before, r.Offsets()) {
				t.Errorf("%s changed the reader", c.name)
			}
		}
	}
}

// TestBadSetup: a setup nobody can see with is reported, not played with.
func TestBadSetup(t *testing.T) {
	for _, change := range []func(*scene.Setup){
		func(s *scene.Setup) { s.Square = 0 },
		func(s *scene.Setup) { s.Image = [2]int{3, 3} },
		func(s *scene.Setup) { s.Pieces[chess.King].Height = 0 },
		func(s *scene.Setup) { s.White = "north" },
	} {
		s := game(t).setup
		change(&s)
		if _, err := NewReader(s).Read(context.Background(), photo.Picture{}); err == nil {
			t.Errorf("%+v was accepted", s)
		}
	}
}

// TestStops: a cancelled reading ends with the context's error.
func TestStops(t *testing.T) {
	s := game(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := NewReader(s.setup).Read(ctx, s.picture(t, 0)); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

// TestSameTwice: reading is deterministic, and a picture shown again is no news.
func TestSameTwice(t *testing.T) {
	s := game(t)
	var first []Reading
	for round := range 2 {
		r := NewReader(s.setup)
		r.Begin(s.start)
		for k := range 3 {
			got, err := r.Read(context.Background(), s.picture(t, k))
			if err != nil {
				t.Fatal(err)
			}
			if round == 0 {
				first = append(first, got)
			} else if !reflect.DeepEqual(got, first[k]) {
				t.Errorf("picture %d: %v, then %v", k, first[k], got)
			}
			if got.State == Moved {
				if err := r.Accept(got.Move); err != nil {
					t.Fatal(err)
				}
				if again, err := r.Read(context.Background(), s.picture(t, k)); err != nil || again.State != Same {
					t.Errorf("after accepting it, picture %d shows %v, %v", k, again, err)
				}
			}
		}
	}
}

// TestOtherImages: the same picture as PNG pixels reads the same.
func TestOtherImages(t *testing.T) {
	s := game(t)
	img, err := jpeg.Decode(bytes.NewReader(s.picture(t, 0).JPEG))
	if err != nil {
		t.Fatal(err)
	}
	rgba := image.NewNRGBA(img.Bounds())
	for y := range img.Bounds().Dy() {
		for x := range img.Bounds().Dx() {
			rgba.Set(x, y, img.At(x, y))
		}
	}
	a, b, c := pixels.Reduce(img, 2), pixels.Reduce(rgba, 2), pixels.Reduce(struct{ image.Image }{rgba}, 2)
	for i := range a.L {
		if d := a.L[i] - b.L[i]; d > 0.15 || d < -0.15 {
			// the colour of dark pixels is coded coarsely and decoded by two roundings
			t.Fatalf("pixel %d: ln brightness %v from the JPEG, %v from the PNG", i, a.L[i], b.L[i])
		}
		if b.L[i] != c.L[i] || b.A[i] != c.A[i] {
			t.Fatalf("pixel %d differs by the kind of image", i)
		}
	}
}
