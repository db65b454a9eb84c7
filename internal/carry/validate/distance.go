// SPDX-License-Identifier: Apache-2.0

package validate

import (
	"fmt"
	"math"
)

// closest is the exact distance of c from a polyline, and where it is reached:
// the number of the place before, with the share of the way to the next.
func closest(path []spot, c spot) (distance, place float64) {
	least := math.Inf(1) // square of the distance
	for i := 0; i+1 < len(path); i++ {
		ux, uy := path[i+1].X-path[i].X, path[i+1].Y-path[i].Y
		dx, dy := c.X-path[i].X, c.Y-path[i].Y
		f := 0.0
		if l := ux*ux + uy*uy; l > 0 { // projection of c on the piece
			f = math.Max(0, math.Min(1, (dx*ux+dy*uy)/l))
		}
		dx, dy = dx-f*ux, dy-f*uy
		if d := dx*dx + dy*dy; d < least {
			least, place = d, float64(i)+f
		}
	}
	return math.Sqrt(least), place
}

// distance is that between two places, metres.
func distance(a, b spot) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

// mm is a place in words.
func mm(s spot) string { return fmt.Sprintf("(%.1f, %.1f) mm", s.X*1e3, s.Y*1e3) }
