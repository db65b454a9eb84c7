// SPDX-License-Identifier: Apache-2.0

package person

import (
	"math/rand/v2"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/twin/physics"
)

// Hand is the guest's hand with its arm and sleeve.
type Hand struct {
	Tip   frame.Point[frame.Board] // between the fingertips, m
	IsOut bool                     // over the table
	Holds *physics.Piece           // nil: nothing
	from  frame.Spot[frame.Board]  // where it was taken from …
	fromZ float64                  // … and how high it stood there, m
	Look  Look
	Rest  frame.Point[frame.Board] // where it comes from, m
	Elbow frame.Point[frame.Board] // m
}

// Look is how a guest's arm looks.
type Look struct {
	Skin   [3]float64 // linear reflectance, red green blue
	Sleeve [3]float64 // the same
	Thick  float64    // of the fingers over the usual
}

// Skins and sleeves, linear reflectance: from memory of measured skin (about
// 0.1–0.5 in red, falling to blue); cloth as it comes.
var (
	skins   = [][3]float64{{0.52, 0.32, 0.23}, {0.42, 0.25, 0.17}, {0.28, 0.15, 0.095}, {0.14, 0.075, 0.048}}
	sleeves = [][3]float64{{0.05, 0.08, 0.18}, {0.32, 0.31, 0.30}, {0.05, 0.05, 0.055}, {0.30, 0.07, 0.06}, {0.10, 0.18, 0.11}}
)

func newHand(side chess.Color, chance *rand.Rand) Hand {
	y := -1.0
	if side == chess.Black {
		y = 1
	}
	x := 0.14 * y * -1 // the right hand of whoever sits there
	return Hand{
		Rest:  frame.Point[frame.Board]{X: x, Y: y * 0.55, Z: 0.16},
		Tip:   frame.Point[frame.Board]{X: x, Y: y * 0.55, Z: 0.16},
		Elbow: frame.Point[frame.Board]{X: x * 2, Y: y * 0.75, Z: 0.22},
		Look: Look{
			Skin:   skins[chance.IntN(len(skins))],
			Sleeve: sleeves[chance.IntN(len(sleeves))],
			Thick:  0.82 + 0.25*chance.Float64(),
		},
	}
}

// Hand is the person's hand as it is now.
func (p *doer) Hand() *Hand { return &p.hand }

func (h *Hand) away() frame.Point[frame.Board] { return h.Rest }

// grab takes a piece.
func (h *Hand) grab(b *physics.Piece) {
	if b == nil {
		return
	}
	h.Holds, h.from, h.fromZ = b, b.At, b.Z
	b.Take()
}

// carry keeps the held piece under the fingertips.
func (h *Hand) carry() {
	if b := h.Holds; b != nil {
		b.At = h.Tip.Spot()
		b.Z = h.Tip.Z - gripHeight*b.Height
	}
}

// length is how far the held piece reaches below the fingertips, m.
func (h *Hand) length() float64 {
	if h.Holds == nil {
		return 0
	}
	return gripHeight * h.Holds.Height
}
