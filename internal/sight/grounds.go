// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/occlusion"
	"math"
)

// kindOf says what the bare board is at a pixel, and false off the board and
// on the lines between squares, where the classes mix.
func (sc *scene) kindOf(i int32) (int, bool) {
	x, y := float64(sc.ground.X[i]), float64(sc.ground.Y[i])
	f, q := sc.setup.field(), sc.setup.Square
	line := 0.7 * sc.ground.Pitch
	if math.Abs(x) > f || math.Abs(y) > f {
		return background.MarginGround, math.Max(math.Abs(x), math.Abs(y)) < f+sc.setup.Border-2*line && math.Max(math.Abs(x), math.Abs(y)) > f+line
	}
	u, v := (x+f)/q, (y+f)/q
	fu, fv := u-math.Floor(u), v-math.Floor(v)
	mixed := math.Min(math.Min(fu, 1-fu), math.Min(fv, 1-fv))*q < line
	return (int(u) + int(v)) & 1, !mixed
}

func (sc *scene) onField(i int) bool {
	f := sc.setup.field()
	return math.Abs(float64(sc.ground.X[i])) < f && math.Abs(float64(sc.ground.Y[i])) < f
}

// squareAt is the square under a pixel of the field.
func (sc *scene) squareAt(i int) int {
	f, q := sc.setup.field(), sc.setup.Square
	return background.ClampBin(int((float64(sc.ground.Y[i])+f)/q), 8)*8 + background.ClampBin(int((float64(sc.ground.X[i])+f)/q), 8)
}

func (sc *scene) zone(i int) int {
	f := sc.setup.field()
	switch far := math.Max(math.Abs(float64(sc.ground.X[i])), math.Abs(float64(sc.ground.Y[i]))); {
	case far < f:
		return overField
	case far < f+sc.setup.Border:
		return overMargin
	}
	return beside // NaN too
}

// brink says whether a pixel lies within a cell of the board's outer edge, or
// beside the board.
func (sc *scene) brink(i int) bool {
	far := math.Max(math.Abs(float64(sc.ground.X[i])), math.Abs(float64(sc.ground.Y[i])))
	return !(far < sc.setup.field()+sc.setup.Border-1.5*occlusion.CellSide*sc.ground.Pitch)
}

// zones of the picture.
const (
	beside = iota
	overMargin
	overField
)
