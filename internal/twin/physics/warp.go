// SPDX-License-Identifier: Apache-2.0

package physics

import (
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/rig"
)

// warp is the true shape of the board: height of the surface over the mean
// plane, metres, as a second-order sheet.
type warp struct {
	half  [2]float64 // half the field along x and y, m
	shape [4]float64
	scale float64 // m
	mean  float64
}

// newWarp scales the drawn shape to the rig's peak-to-valley over the field.
func newWarp(r *rig.Rig, bow [4]float64) warp {
	x, y := r.Board.Half()
	w := warp{half: [2]float64{float64(x), float64(y)}, shape: bow, scale: 1}
	lo, hi, sum := math.Inf(1), math.Inf(-1), 0.0
	const n = 8
	for i := range n + 1 {
		for j := range n + 1 {
			z := w.at(frame.Spot[frame.Board]{X: w.half[0] * (2*float64(i)/n - 1), Y: w.half[1] * (2*float64(j)/n - 1)})
			lo, hi, sum = math.Min(lo, z), math.Max(hi, z), sum+z
		}
	}
	if hi-lo < 1e-9 { // no shape drawn: a flat board
		return warp{half: w.half}
	}
	w.scale = float64(r.Board.Warp) / (hi - lo)
	w.mean = sum / ((n + 1) * (n + 1)) * w.scale
	return w
}

// at is the height of the surface, metres.
func (w warp) at(p frame.Spot[frame.Board]) float64 {
	u := math.Max(-1.2, math.Min(1.2, p.X/w.half[0]))
	v := math.Max(-1.2, math.Min(1.2, p.Y/w.half[1]))
	s := w.shape
	return w.scale*(s[0]*(u*u-v*v)+s[1]*u*v+s[2]*(u*u+v*v)+s[3]*u*u*v) - w.mean
}

// slopes are those of the plane that fits the field best: sums over a grid that lies alike on both
// sides of the middle, where x, y and 1 are square to one another.
func (w warp) slopes() (out [2]float64) {
	const n = 32
	var sum, squares [2]float64
	for i := range n {
		for j := range n {
			at := [2]float64{w.half[0] * ((2*float64(i)+1)/n - 1), w.half[1] * ((2*float64(j)+1)/n - 1)}
			z := w.at(frame.Spot[frame.Board]{X: at[0], Y: at[1]})
			for k := range at {
				sum[k], squares[k] = sum[k]+z*at[k], squares[k]+at[k]*at[k]
			}
		}
	}
	return [2]float64{sum[0] / squares[0], sum[1] / squares[1]}
}
