// SPDX-License-Identifier: Apache-2.0

package optics

import (
	"math"
	"testing"

	"boardhand/internal/frame"
)

// The homography of left01's outer corners (OpenCV's findHomography, squares
// as unit), and the corners themselves.
func TestHomographyPublished(t *testing.T) {
	views := sampleCorners(t)
	corners := views[0].corners
	var pairs []Pair
	for _, i := range []int{0, 8, 53, 45} {
		pairs = append(pairs, Pair{corners[i].Board.Spot(), corners[i].Seen})
	}
	h, err := FindHomography(pairs)
	if err != nil {
		t.Fatal(err)
	}
	want := Homography{{26.3137951, 2.33950700, 244.405304}, {-2.18995409, 33.3529373, 94.1369019}, {-0.0143187629, 0.00576475911, 1}}
	for i := range h {
		for j := range h[i] {
			// The published corners are rounded to 1e-4 px; that moves an entry by a few 1e-5 of itself.
			if math.Abs(h[i][j]-want[i][j]) > 1e-4*math.Abs(want[i][j]) {
				t.Errorf("entry %d %d: %.9g, published %.9g", i, j, h[i][j], want[i][j])
			}
		}
	}
	for _, p := range pairs {
		if px, ok := h.Apply(p.Board); !ok || px.Distance(p.Seen) > 1e-8 {
			t.Errorf("%v goes to %v, seen at %v", p.Board, px, p.Seen)
		}
	}
}

func TestHomographyNeedsFourApart(t *testing.T) {
	s := func(x, y float64) Pair { return Pair{frame.Spot[frame.Board]{X: x, Y: y}, pix(10*x, 20*y)} }
	for _, pairs := range [][]Pair{nil, {s(0, 0), s(1, 0), s(0, 1)}, {s(0, 0), s(1, 1), s(2, 2), s(3, 3), s(5, 5)},
		{s(1, 1), s(1, 1), s(1, 1), s(1, 1)}} {
		if h, err := FindHomography(pairs); err == nil {
			t.Errorf("finds %v from %v", h, pairs)
		}
	}
}

// Apply maps a spot; false where it falls on or beyond the horizon.
func (h Homography) Apply(p frame.Spot[frame.Board]) (frame.Spot[frame.Image], bool) {
	w := h[2][0]*p.X + h[2][1]*p.Y + h[2][2]
	x := h[0][0]*p.X + h[0][1]*p.Y + h[0][2]
	y := h[1][0]*p.X + h[1][1]*p.Y + h[1][2]
	return frame.Spot[frame.Image]{X: x / w, Y: y / w}, w > 0
}
