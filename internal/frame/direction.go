// SPDX-License-Identifier: Apache-2.0

package frame

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
