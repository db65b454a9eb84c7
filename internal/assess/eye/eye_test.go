// SPDX-License-Identifier: Apache-2.0

package eye

import (
	"math"
	"testing"

	"boardhand/internal/game"
	"boardhand/internal/rig"
)

// The head of a piece leans outwards by r·h/(H − h) (relief displacement), the
// same way on all four corners.
func TestLeanOfCornerPieces(t *testing.T) {
	r := rig.Default()
	v, err := Over(r)
	if err != nil {
		t.Fatal(err)
	}
	h, high := float64(r.Pieces.Of(game.King).Height), float64(r.Camera.Height)
	for _, sq := range []game.Square{game.SquareAt(0, 0), game.SquareAt(7, 0), game.SquareAt(0, 7), game.SquareAt(7, 7)} {
		o, err := v.Outline(game.King, sq)
		if err != nil {
			t.Fatal(err)
		}
		from := math.Hypot(o.Base.X, o.Base.Y)
		if got, want := o.Head.Distance(o.Base), from*h/(high-h); math.Abs(got-want) > 1e-9 {
			t.Errorf("%v leans by %g m, want %g m", sq, got, want)
		}
		if o.Head.Dot(o.Base) < from*from {
			t.Errorf("%v leans inwards", sq)
		}
	}
}

// Middle squares hide least, and nothing is hidden by a camera far up.
func TestWhatIsHidden(t *testing.T) {
	r := rig.Default()
	r.Camera.Height = 50
	v, err := Over(r)
	if err != nil {
		t.Fatal(err)
	}
	all, err := v.Leanings()
	if err != nil {
		t.Fatal(err)
	}
	if len(all) != 6*64 {
		t.Fatalf("%d leanings", len(all))
	}
	for _, l := range all {
		if l.Hidden != 0 || l.Spill > 0 {
			t.Errorf("from 50 m up a %v on %v hides %g and spills %g m", l.Kind, l.Square, l.Hidden, l.Spill)
		}
	}
}

// At the height needed the field just fills the short side of the picture.
func TestHeightNeeded(t *testing.T) {
	r := rig.Default()
	for _, k := range game.ChessKinds.All() {
		r.Pieces.Of(k).Height = 1e-6
	}
	h, err := HeightNeeded(r, 0)
	if err != nil {
		t.Fatal(err)
	}
	short := float64(min(r.Camera.Image[0], r.Camera.Image[1]))
	if got := short * h / r.Camera.FocalPixels(); math.Abs(got-float64(r.Board.Field())) > 1e-4 {
		t.Errorf("from %g m the short side sees %g m of a field of %v", h, got, r.Board.Field())
	}
}

// A lens of 120° across whose pixels go with the angle sees ±33.75° along a picture of
// 16:9: of a field of 320 mm, from 160 mm/tan 33.75° = 239 mm. An ideal one would from 181.
func TestWideLensSeesLess(t *testing.T) {
	r := rig.Default()
	for _, k := range game.ChessKinds.All() {
		r.Pieces.Of(k).Height = 1e-6
	}
	r.Camera.HFOV = 2 * math.Pi / 3
	h, err := HeightNeeded(r, 0)
	if want := 0.160 / math.Tan(33.75*math.Pi/180); err != nil || math.Abs(h-want) > 1e-4 {
		t.Errorf("%g m, want %g m; %v", h, want, err)
	}
}
