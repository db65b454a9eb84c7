// SPDX-License-Identifier: Apache-2.0

// Package whiteside tells on which side of a picture White sits, from the pieces: the board
// looks the same from both.
package whiteside

import (
	"image"
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
)

// Turned is a view of the board from White's other side.
func Turned(v optics.View) optics.View {
	half := frame.Rotation{{-1, 0, 0}, {0, -1, 0}, {0, 0, 1}}
	v.CameraFromBoard.R = v.CameraFromBoard.R.Mul(half)
	return v
}

// Odds is by how many nats the pieces of a board speak for White sitting where the view has
// them rather than across: pieces stand where it has some, and White's are the brighter ones.
func Odds(g *image.Gray, v optics.View, s scene.Setup, board scene.Occupancy) float64 {
	var look [64]glimpse
	for q := range look {
		look[q] = glimpseOf(g, v, s, chess.Square(q))
	}
	var turned scene.Occupancy
	for q := range board {
		turned[63-q] = board[q]
	}
	return fit(look, board) - fit(look, turned)
}

// glimpse is what the middle of a square looks like: its mean brightness, and how much it varies.
type glimpse struct{ level, relief float64 }

// glimpseOf looks at a square and above it, where a piece would be.
func glimpseOf(g *image.Gray, v optics.View, s scene.Setup, q chess.Square) glimpse {
	const half = 6
	centre, sum, squares, n := s.Centre(q), 0.0, 0.0, 0.0
	for j := -half; j <= half; j++ {
		for i := -half; i <= half; i++ {
			at := centre.Add(frame.Spot[frame.Board]{X: float64(i), Y: float64(j)}.Scale(0.3 * s.Square / half))
			px, ok := v.Project(at.At(0.3 * s.Square))
			x, y := int(px.X+0.5), int(px.Y+0.5)
			if !ok || x < 0 || y < 0 || x >= g.Rect.Dx() || y >= g.Rect.Dy() {
				continue
			}
			l := math.Log(float64(g.Pix[y*g.Stride+x]) + pixels.Black)
			sum, squares, n = sum+l, squares+l*l, n+1
		}
	}
	if n == 0 {
		return glimpse{}
	}
	mean := sum / n
	return glimpse{mean, math.Log(math.Sqrt(max(0, squares/n-mean*mean)) + leastRelief)}
}

// fit is how well a board explains the squares, in nats: each kind of square – bare, with a
// white piece, with a black one, on light and dark ground – has a level and a relief of its
// own, and white pieces are brighter than black ones on the same ground.
func fit(look [64]glimpse, board scene.Occupancy) float64 {
	const classes = 3
	var level, relief [2 * classes][]float64
	for q, p := range board {
		k := classes * ((q/8 + q) & 1)
		if p != chess.NoPiece {
			k += 1 + int(p.Color())
		}
		level[k], relief[k] = append(level[k], look[q].level), append(relief[k], look[q].relief)
	}
	total := 0.0
	for k := range level {
		total -= scatter(level[k]) + scatter(relief[k])
	}
	for ground := 0; ground < 2*classes; ground += classes {
		white, black := level[ground+1+int(chess.White)], level[ground+1+int(chess.Black)]
		if len(white) > 0 && len(black) > 0 {
			total += brighter(numeric.Median(white) - numeric.Median(black))
		}
	}
	return total
}

// scatter is what the spread of values about their median costs, in nats.
func scatter(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	middle, sum := numeric.Median(v), 0.0
	for _, x := range v {
		sum += min(mostScatter, math.Abs(x-middle)/usualSpread)
	}
	return sum
}

// brighter is what a difference of the sides' brightness says, in nats.
func brighter(d float64) float64 { return max(-mostBrighter, min(mostBrighter, d/usualBrighter)) }
