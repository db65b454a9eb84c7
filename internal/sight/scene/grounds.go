// SPDX-License-Identifier: Apache-2.0

package scene

import (
	"math"
)

// What the bare board is at a pixel: one of three grounds, or none of them.
const (
	DarkGround   = iota
	LightGround                // the light squares
	MarginGround               // around the field
	Grounds                    // how many there are
	MixedGround  = Grounds     // on a line between two of them
	NoGround     = Grounds + 1 // beside the board
)

// GroundAt says what the bare board is at a pixel, and false off the board and
// on the lines between squares, where the classes mix.
func (sc *Scene) GroundAt(i int32) (int, bool) {
	x, y := float64(sc.Plane.X[i]), float64(sc.Plane.Y[i])
	f, q := sc.Setup.HalfField(), sc.Setup.Square
	line := 0.7 * sc.Plane.Pitch
	if math.Abs(x) > f || math.Abs(y) > f {
		return MarginGround, math.Max(math.Abs(x), math.Abs(y)) < f+sc.Setup.Border-2*line && math.Max(math.Abs(x), math.Abs(y)) > f+line
	}
	u, v := (x+f)/q, (y+f)/q
	fu, fv := u-math.Floor(u), v-math.Floor(v)
	mixed := math.Min(math.Min(fu, 1-fu), math.Min(fv, 1-fv))*q < line
	return (int(u) + int(v)) & 1, !mixed
}

// IsOnField says whether a pixel shows the plane of the playing field.
func (sc *Scene) IsOnField(i int) bool {
	f := sc.Setup.HalfField()
	return math.Abs(float64(sc.Plane.X[i])) < f && math.Abs(float64(sc.Plane.Y[i])) < f
}

// SquareAt is the square under a pixel of the field.
func (sc *Scene) SquareAt(i int) int {
	f, q := sc.Setup.HalfField(), sc.Setup.Square
	return max(0, min(7, int((float64(sc.Plane.Y[i])+f)/q)))*8 + max(0, min(7, int((float64(sc.Plane.X[i])+f)/q)))
}

// Zone is which zone of the picture a pixel lies in.
func (sc *Scene) Zone(i int) int {
	f := sc.Setup.HalfField()
	switch far := math.Max(math.Abs(float64(sc.Plane.X[i])), math.Abs(float64(sc.Plane.Y[i]))); {
	case far < f:
		return OverField
	case far < f+sc.Setup.Border:
		return overMargin
	}
	return Beside // NaN too
}

// IsAtBrink says whether a pixel lies within so many pixels of the board's outer edge, or
// beside the board.
func (sc *Scene) IsAtBrink(i int, within float64) bool {
	far := math.Max(math.Abs(float64(sc.Plane.X[i])), math.Abs(float64(sc.Plane.Y[i])))
	return !(far < sc.Setup.HalfField()+sc.Setup.Border-within*sc.Plane.Pitch)
}

// Zones of the picture, by where the board plane is seen.
const (
	Beside = iota
	overMargin
	OverField
)
