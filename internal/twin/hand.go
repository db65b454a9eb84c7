package twin

import (
	"math/rand/v2"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/twin/lens"
	"boardhand/internal/twin/physics"
)

// hand is the guest's hand with its arm and sleeve.
type hand struct {
	tip   frame.Point[frame.Board] // between the fingertips
	out   bool                     // over the table
	holds *physics.Piece
	from  frame.Spot[frame.Board] // where it was taken from …
	fromZ float64                 // … and how high it stood there, m
	look  lens.Look
	rest  frame.Point[frame.Board] // where it comes from
	elbow frame.Point[frame.Board]
}

// Skins and sleeves, linear reflectance: from memory of measured skin (about
// 0.1–0.5 in red, falling to blue); cloth as it comes.
var (
	skins   = [][3]float64{{0.52, 0.32, 0.23}, {0.42, 0.25, 0.17}, {0.28, 0.15, 0.095}, {0.14, 0.075, 0.048}}
	sleeves = [][3]float64{{0.05, 0.08, 0.18}, {0.32, 0.31, 0.30}, {0.05, 0.05, 0.055}, {0.30, 0.07, 0.06}, {0.10, 0.18, 0.11}}
)

func newHand(w *World, side chess.Color, chance *rand.Rand) hand {
	y := -1.0
	if side == chess.Black {
		y = 1
	}
	x := 0.14 * y * -1 // the right hand of whoever sits there
	return hand{
		rest:  frame.Point[frame.Board]{X: x, Y: y * 0.55, Z: 0.16},
		tip:   frame.Point[frame.Board]{X: x, Y: y * 0.55, Z: 0.16},
		elbow: frame.Point[frame.Board]{X: x * 2, Y: y * 0.75, Z: 0.22},
		look: lens.Look{
			Skin:   skins[chance.IntN(len(skins))],
			Sleeve: sleeves[chance.IntN(len(sleeves))],
			Thick:  0.82 + 0.25*chance.Float64(),
		},
	}
}

func (h *hand) away() frame.Point[frame.Board] { return h.rest }

// grab takes a man.
func (h *hand) grab(b *physics.Piece) {
	if b == nil {
		return
	}
	h.holds, h.from, h.fromZ = b, b.At, b.Z
	b.Take()
}

// carry keeps the held man under the fingertips.
func (h *hand) carry() {
	if b := h.holds; b != nil {
		b.At = h.tip.Spot()
		b.Z = h.tip.Z - 0.85*b.Height
	}
}

// length is how far the held man reaches below the fingertips, m.
func (h *hand) length() float64 {
	if h.holds == nil {
		return 0
	}
	return 0.85 * h.holds.Height
}
