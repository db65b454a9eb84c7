// SPDX-License-Identifier: Apache-2.0

package frame

import "math"

// Ahead is what is left of a path, corner by corner, from where it comes nearest to a
// spot; nothing of an empty path.
func Ahead[F any](path []Spot[F], p Spot[F]) []Spot[F] {
	best, least := 0, math.Inf(1)
	for i := range path {
		if _, d := Nearest(path[max(0, i-1):i+1], p); d < least {
			best, least = i, d
		}
	}
	if len(path) == 0 {
		return nil
	}
	at, _ := Nearest(path[max(0, best-1):best+1], p)
	return append([]Spot[F]{at}, path[best:]...)
}
