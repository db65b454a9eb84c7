// SPDX-License-Identifier: Apache-2.0

package frame

import "math"

// Rect is an upright rectangle in the xy plane of frame F.
type Rect[F any] struct{ Min, Max Spot[F] }

// Holds says whether p lies in the rectangle, its border included.
func (r Rect[F]) Holds(p Spot[F]) bool {
	return p.X >= r.Min.X && p.X <= r.Max.X && p.Y >= r.Min.Y && p.Y <= r.Max.Y
}

// With returns the rectangle grown just enough to hold p.
func (r Rect[F]) With(p Spot[F]) Rect[F] {
	r.Min = Spot[F]{X: math.Min(r.Min.X, p.X), Y: math.Min(r.Min.Y, p.Y)}
	r.Max = Spot[F]{X: math.Max(r.Max.X, p.X), Y: math.Max(r.Max.Y, p.Y)}
	return r
}

// Inset returns the rectangle with each side moved inwards by d; it never
// turns inside out.
func (r Rect[F]) Inset(d float64) Rect[F] {
	dx := math.Min(d, (r.Max.X-r.Min.X)/2)
	dy := math.Min(d, (r.Max.Y-r.Min.Y)/2)
	return Rect[F]{Spot[F]{X: r.Min.X + dx, Y: r.Min.Y + dy}, Spot[F]{X: r.Max.X - dx, Y: r.Max.Y - dy}}
}

// Meet returns what two rectangles have in common.
func (r Rect[F]) Meet(s Rect[F]) Rect[F] {
	return Rect[F]{
		Spot[F]{X: math.Max(r.Min.X, s.Min.X), Y: math.Max(r.Min.Y, s.Min.Y)},
		Spot[F]{X: math.Min(r.Max.X, s.Max.X), Y: math.Min(r.Max.Y, s.Max.Y)},
	}
}
