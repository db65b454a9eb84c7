// SPDX-License-Identifier: Apache-2.0

// Package frame holds points and poses whose reference frame is part of their
// type, so that adding a board point to a camera point does not compile.
//
//	       y (rank 1 → 8)                     Camera: x right, y down,
//	       ^                                  z forward, origin in the
//	       |   z up, 0 on the                 centre of projection.
//	  +----|----+ playing surface
//	  |    |    |                             Image: pixels, u right, v down,
//	  |    o----|--> x (file a → h)           centre of the first pixel (0, 0).
//	  |  Board  |
//	  +---------+                             Machine: the controller's axes
//	origin: centre of the field               after homing; z is the lift.
//
// Lengths are metres. Names of poses say the way: machineFromBoard maps a
// board point to the machine frame, and Compose accepts only neighbours whose
// frames meet.
package frame

import (
	"errors"
	"math"
)

// The frames. They carry no data; they only tell types apart.
type (
	// Board has its origin at the centre of the playing field, x from file a
	// to file h, y from rank 1 to rank 8, z up from the playing surface.
	Board struct{}
	// Machine is the controller's coordinate system after homing.
	Machine struct{}
	// Camera has x right, y down, z forward (out of the lens).
	Camera struct{}
	// Image has u right, v down in pixels; the centre of the first pixel is (0, 0).
	Image struct{}
)

// Point is a place in space in frame F, in metres.
type Point[F any] struct{ X, Y, Z float64 }

// Spot is a place in the xy plane of frame F: metres, or pixels for Image.
type Spot[F any] struct{ X, Y float64 }

// Add returns the point displaced by d, given in the same frame.
func (p Point[F]) Add(d Point[F]) Point[F] { return Point[F]{p.X + d.X, p.Y + d.Y, p.Z + d.Z} }

// Sub returns the displacement from q to p.
func (p Point[F]) Sub(q Point[F]) Point[F] { return Point[F]{p.X - q.X, p.Y - q.Y, p.Z - q.Z} }

// Norm is the distance of p from the origin, in metres.
func (p Point[F]) Norm() float64 { return math.Sqrt(p.X*p.X + p.Y*p.Y + p.Z*p.Z) }

// Spot drops the z coordinate.
func (p Point[F]) Spot() Spot[F] { return Spot[F]{p.X, p.Y} }

// At lifts a spot to height z, metres.
func (s Spot[F]) At(z float64) Point[F] { return Point[F]{s.X, s.Y, z} }

// Add returns the spot displaced by d.
func (s Spot[F]) Add(d Spot[F]) Spot[F] { return Spot[F]{s.X + d.X, s.Y + d.Y} }

// Sub returns the displacement from t to s.
func (s Spot[F]) Sub(t Spot[F]) Spot[F] { return Spot[F]{s.X - t.X, s.Y - t.Y} }

// Scale returns the spot stretched from the origin by k.
func (s Spot[F]) Scale(k float64) Spot[F] { return Spot[F]{k * s.X, k * s.Y} }

// Dot is the scalar product of two displacements.
func (s Spot[F]) Dot(t Spot[F]) float64 { return s.X*t.X + s.Y*t.Y }

// Norm is the length of the displacement s.
func (s Spot[F]) Norm() float64 { return math.Hypot(s.X, s.Y) }

// Distance is the distance between two spots.
func (s Spot[F]) Distance(t Spot[F]) float64 { return math.Hypot(s.X-t.X, s.Y-t.Y) }

// Rotation is a 3×3 rotation matrix, row major.
type Rotation [3][3]float64

// Identity is the rotation that turns nothing.
var Identity = Rotation{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}

// Pose maps points of frame From to frame To: p_To = R p_From + T.
// T is the origin of From seen in To, in metres.
type Pose[To, From any] struct {
	R Rotation
	T Point[To]
}

// Apply maps a point.
func (p Pose[To, From]) Apply(q Point[From]) Point[To] {
	r := p.R
	return Point[To]{
		r[0][0]*q.X + r[0][1]*q.Y + r[0][2]*q.Z + p.T.X,
		r[1][0]*q.X + r[1][1]*q.Y + r[1][2]*q.Z + p.T.Y,
		r[2][0]*q.X + r[2][1]*q.Y + r[2][2]*q.Z + p.T.Z,
	}
}

// Inverse returns the pose that maps the other way.
func (p Pose[To, From]) Inverse() Pose[From, To] {
	inv := Pose[From, To]{R: p.R.Transpose()}
	t := Pose[From, To]{R: inv.R}.Apply(Point[To]{-p.T.X, -p.T.Y, -p.T.Z})
	inv.T = t
	return inv
}

// Compose chains two poses: aFromB ∘ bFromC = aFromC. The inner frames must
// be the same or the call does not compile.
func Compose[A, B, C any](aFromB Pose[A, B], bFromC Pose[B, C]) Pose[A, C] {
	return Pose[A, C]{R: aFromB.R.Mul(bFromC.R), T: aFromB.Apply(bFromC.T)}
}

// Transpose returns the inverse rotation.
func (r Rotation) Transpose() Rotation {
	var t Rotation
	for i := range 3 {
		for j := range 3 {
			t[j][i] = r[i][j]
		}
	}
	return t
}

// Mul returns the matrix product r·s.
func (r Rotation) Mul(s Rotation) Rotation {
	var m Rotation
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				m[i][j] += r[i][k] * s[k][j]
			}
		}
	}
	return m
}

// FromVector returns the rotation by |v| radians about the axis v (the
// rotation vector of Rodrigues' formula, the convention of OpenCV).
func FromVector(v [3]float64) Rotation {
	th := math.Sqrt(v[0]*v[0] + v[1]*v[1] + v[2]*v[2])
	s, c := 1-th*th/6, 0.5-th*th/24
	if th > smallTurn {
		s, c = math.Sin(th)/th, (1-math.Cos(th))/(th*th)
	}
	k := Rotation{{0, -v[2], v[1]}, {v[2], 0, -v[0]}, {-v[1], v[0], 0}}
	kk := k.Mul(k)
	r := Identity
	for i := range 3 {
		for j := range 3 {
			r[i][j] += s*k[i][j] + c*kk[i][j]
		}
	}
	return r
}

// ErrNotRotation says that a matrix is not a proper rotation.
var ErrNotRotation = errors.New("matrix is not a rotation")

// Vector returns the rotation vector of r, its length in [0, π] radians.
func (r Rotation) Vector() ([3]float64, error) {
	d := r.Transpose().Mul(r)
	for i := range 3 {
		for j := range 3 {
			if math.Abs(d[i][j]-Identity[i][j]) > orthogonality {
				return [3]float64{}, ErrNotRotation
			}
		}
	}
	w := [3]float64{r[2][1] - r[1][2], r[0][2] - r[2][0], r[1][0] - r[0][1]}
	sin := math.Sqrt(w[0]*w[0]+w[1]*w[1]+w[2]*w[2]) / 2
	cos := (r[0][0] + r[1][1] + r[2][2] - 1) / 2
	th := math.Atan2(sin, cos)
	if sin > smallTurn {
		k := th / (2 * sin)
		return [3]float64{k * w[0], k * w[1], k * w[2]}, nil
	}
	if cos > 0 {
		return [3]float64{w[0] / 2, w[1] / 2, w[2] / 2}, nil
	}
	a := halfTurn(r, th)
	if a[0]*w[0]+a[1]*w[1]+a[2]*w[2] < 0 { // the antisymmetric part knows the axis' sign
		a = [3]float64{-a[0], -a[1], -a[2]}
	}
	return a, nil
}

// halfTurn recovers the axis near a turn of π from the symmetric part
// R + Rᵀ = 2(1−cos θ) aaᵀ + 2cos θ·I, using its largest diagonal entry.
func halfTurn(r Rotation, th float64) [3]float64 {
	i := 0
	for j := 1; j < 3; j++ {
		if r[j][j] > r[i][i] {
			i = j
		}
	}
	var a [3]float64
	a[i] = math.Sqrt(math.Max(0, (r[i][i]+1)/2))
	for j := range 3 {
		if j != i {
			a[j] = (r[i][j] + r[j][i]) / (4 * a[i])
		}
	}
	n := math.Sqrt(a[0]*a[0] + a[1]*a[1] + a[2]*a[2])
	return [3]float64{a[0] / n * th, a[1] / n * th, a[2] / n * th}
}
