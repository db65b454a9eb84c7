// SPDX-License-Identifier: Apache-2.0

package frame

import "math"

// Unit is the direction of a spot's offset: length 1, and along x when it has
// no length.
func (s Spot[F]) Unit() Spot[F] {
	if n := s.Norm(); n > 0 {
		return s.Scale(1 / n)
	}
	return Spot[F]{X: 1}
}

// Between is the point a share t of the way from p to q; 0: p, 1: q.
func (p Point[F]) Between(q Point[F], t float64) Point[F] {
	return Point[F]{p.X + t*(q.X-p.X), p.Y + t*(q.Y-p.Y), p.Z + t*(q.Z-p.Z)}
}

// Nearest is the point of a path, corner by corner, that is nearest to a spot,
// and how far it is. An empty path is endlessly far.
func Nearest[F any](path []Spot[F], p Spot[F]) (at Spot[F], distance float64) {
	distance = math.Inf(1)
	for i, q := range path {
		if i > 0 {
			a, d := path[i-1], q.Sub(path[i-1])
			if n := d.Dot(d); n > 0 {
				q = a.Add(d.Scale(max(0, min(1, p.Sub(a).Dot(d)/n))))
			}
		}
		if d := q.Distance(p); d < distance {
			at, distance = q, d
		}
	}
	return at, distance
}
