// SPDX-License-Identifier: Apache-2.0

package frame

import "math"

// Affine maps places of one plane to another: M·p + T. Unlike a pose it may stretch and
// shear, as axes do that are not square or go farther than they count.
type Affine[To, From any] struct {
	M [2][2]float64
	T Spot[To]
}

// Planar is what a pose does to places on the plane z = 0 when it keeps them in a plane.
func (p Pose[To, From]) Planar() Affine[To, From] {
	return Affine[To, From]{M: [2][2]float64{{p.R[0][0], p.R[0][1]}, {p.R[1][0], p.R[1][1]}}, T: p.T.Spot()}
}

// Apply maps a place.
func (a Affine[To, From]) Apply(p Spot[From]) Spot[To] {
	return Spot[To]{a.M[0][0]*p.X + a.M[0][1]*p.Y + a.T.X, a.M[1][0]*p.X + a.M[1][1]*p.Y + a.T.Y}
}

// Inverse is the map back; its numbers are not finite where there is none.
func (a Affine[To, From]) Inverse() Affine[From, To] {
	det := a.M[0][0]*a.M[1][1] - a.M[0][1]*a.M[1][0]
	n := [2][2]float64{{a.M[1][1] / det, -a.M[0][1] / det}, {-a.M[1][0] / det, a.M[0][0] / det}}
	return Affine[From, To]{M: n, T: Spot[From]{-(n[0][0]*a.T.X + n[0][1]*a.T.Y), -(n[1][0]*a.T.X + n[1][1]*a.T.Y)}}
}

// Built is the map from the board to the counts of axes that differ from their drawing:
// each goes scale of what it counts, y leans by skew (rad) towards x, and the board is
// turned (rad) on the machine, with its centre at centre as the true machine measures.
//
//	K·counts = R(turn)·board + centre,  K = ((sx, sy·sin skew), (0, sy·cos skew))
func Built[To, From any](scale [2]float64, skew, turn float64, centre Spot[To]) Affine[To, From] {
	sin, cos := math.Sincos(turn)
	tan := math.Tan(skew)
	y := scale[1] * math.Cos(skew)
	back := func(u, v float64) (float64, float64) { return (u - tan*v) / scale[0], v / y }
	var a Affine[To, From]
	a.M[0][0], a.M[1][0] = back(cos, sin)
	a.M[0][1], a.M[1][1] = back(-sin, cos)
	a.T.X, a.T.Y = back(centre.X, centre.Y)
	return a
}
