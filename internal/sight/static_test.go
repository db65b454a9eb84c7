// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/photo"
	"boardhand/internal/rig"
	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
)

// TestWhatRestsIsNoHand: something that lies quite still over the board's edge
// picture after picture is taken for what it is, a thing; a hand that moves
// never is. The pictures are ray-traced.
func TestWhatRestsIsNoHand(t *testing.T) {
	s, err := readScene("testdata/games/plastic")
	if err != nil {
		t.Fatal(err)
	}
	var hands []int
	for k, f := range s.frames {
		if f.State == Hand {
			hands = append(hands, k)
		}
	}
	if len(hands) < 2 {
		t.Fatalf("the game shows %d hands, two are needed", len(hands))
	}
	r := NewReader(s.setup)
	r.Begin(s.start)
	read := func(k int, at time.Time) State {
		p := s.picture(t, k)
		p.Taken = at
		got, err := r.Read(context.Background(), p)
		if err != nil {
			t.Fatal(err)
		}
		return got.State
	}
	now := time.Date(2026, 1, 1, 20, 0, 0, 0, time.UTC)
	if got := read(0, now); got != Same {
		t.Fatalf("the first picture was read as %s", got)
	}
	for n := range 12 { // moving to and fro for a minute
		now = now.Add(5 * time.Second)
		if got := read(hands[n%2], now); got != Hand {
			t.Fatalf("a moving hand was read as %s", got)
		}
	}
	for n := range 4 { // still, but not for long
		if got := read(hands[0], now.Add(time.Duration(n)*time.Second)); got != Hand {
			t.Fatalf("a hand still for %d s was read as %s", n, got)
		}
	}
	if got := read(hands[0], now.Add(10*time.Second)); got == Moved {
		t.Error("a resting hand was read as a move")
	}
}

// TestWhatRestsInNoise: noise, coded coarsely, does not keep a thing that lies
// still from being taken for one.
func TestWhatRestsInNoise(t *testing.T) {
	s := game(t)
	r := NewReader(s.setup)
	r.Begin(s.start)
	rng := rand.New(rand.NewPCG(3, 4))
	over := -1
	for k, f := range s.frames {
		if f.State == Hand {
			over = k
			break
		}
		got, err := r.Read(context.Background(), noisy(t, s.picture(t, k), rng))
		if err != nil {
			t.Fatal(err)
		}
		if got.State == Moved {
			if err := r.Accept(got.Move); err != nil {
				t.Fatal(err)
			}
		}
	}
	for n := range 2*staticPictures + 1 {
		got, err := r.Read(context.Background(), noisy(t, s.picture(t, over), rng))
		if err != nil {
			t.Fatal(err)
		}
		if still := n >= 2*staticPictures; still == (got.State == Hand) || got.State == Moved {
			t.Errorf("picture %d of what lies still was read as %s", n+1, got.State)
		}
	}
}

// noisy is a picture as a small sensor takes it in a dim room.
func noisy(t *testing.T, p photo.Picture, rng *rand.Rand) photo.Picture {
	t.Helper()
	const dim, sigma = 0.4, 4 // levels of 255
	img, err := decode(p)
	if err != nil {
		t.Fatal(err)
	}
	b := img.Bounds()
	out := image.NewRGBA(b)
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			r, g, bl, _ := img.At(x, y).RGBA()
			add := func(v uint32) uint8 {
				return uint8(max(0, min(255, dim*float64(v>>8)+sigma*rng.NormFloat64())))
			}
			out.SetRGBA(x, y, color.RGBA{add(r), add(g), add(bl), 255})
		}
	}
	var coded bytes.Buffer
	if err := jpeg.Encode(&coded, out, &jpeg.Options{Quality: 60}); err != nil {
		t.Fatal(err)
	}
	return photo.Picture{Name: p.Name, JPEG: coded.Bytes()}
}

// In a dim room the noise of two pictures of the same board is no motion. The
// pictures are the twin's; a king stands beside the board, at the picture's edge.
func TestNoiseIsNoMotion(t *testing.T) {
	pos, err := chess.ParseFEN("r1bqk2r/ppp2ppp/2nb1n2/8/4p2P/3PP3/PPP1NPP1/RNBQK2R b KQkq - 0 8")
	if err != nil {
		t.Fatal(err)
	}
	setup, err := SetupFrom(rig.Default())
	if err != nil {
		t.Fatal(err)
	}
	setup.Border = 0.06
	r := NewReader(setup)
	r.Begin(pos)
	var plates []*pixels.Image
	for _, name := range []string{"board", "still1", "still2"} {
		data, err := os.ReadFile(filepath.Join("testdata", "rest", name+".jpg"))
		if err != nil {
			t.Fatal(err)
		}
		p := photo.Picture{Name: name, JPEG: data}
		if r.tracker == nil {
			if _, err := r.Read(context.Background(), p); err != nil {
				t.Fatal(err)
			}
		}
		img, err := decode(p)
		if err != nil {
			t.Fatal(err)
		}
		plates = append(plates, pixels.Reduce(img, r.tracker.Reduce))
	}
	if !occlusion.IsStill(&r.tracker.Scene, occlusion.Compare(plates[2], plates[1])) {
		t.Error("two pictures of what lies still differ")
	}
	if occlusion.IsStill(&r.tracker.Scene, occlusion.Compare(plates[2], plates[0])) {
		t.Error("the king and the rook have moved since the first, unnoticed")
	}
}
