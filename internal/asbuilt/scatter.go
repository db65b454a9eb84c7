// SPDX-License-Identifier: Apache-2.0

package asbuilt

import (
	"math"

	"boardhand/internal/frame"
)

// Scatter is the middle of places, the standard deviation of each coordinate and how far
// the farthest lies from the middle, m; of two places or more.
func Scatter(at []frame.Spot[frame.Board]) (middle frame.Spot[frame.Board], sigma [2]float64, farthest float64) {
	n := float64(len(at))
	for _, p := range at {
		middle = middle.Add(p.Scale(1 / n))
	}
	for _, p := range at {
		d := p.Sub(middle)
		sigma[0], sigma[1] = sigma[0]+d.X*d.X/(n-1), sigma[1]+d.Y*d.Y/(n-1)
		farthest = max(farthest, d.Norm())
	}
	return middle, [2]float64{math.Sqrt(sigma[0]), math.Sqrt(sigma[1])}, farthest
}
