// SPDX-License-Identifier: Apache-2.0

package optics

import (
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/linear"
)

// Homography maps the plane z = 0 of the board frame to pixels of a picture
// without distortion: (u, v, 1) ∝ H (x, y, 1). Its last entry is 1.
type Homography [3][3]float64

// Pair is a place on a plane and where it is seen.
type Pair struct {
	Board frame.Spot[frame.Board]
	Seen  frame.Spot[frame.Image]
}

// FindHomography is the direct linear transformation with both point sets
// moved to their centres and scaled to unit spread (Hartley, In defense of the
// eight-point algorithm, 1997), least squares over four or more pairs, no
// three in one line. Exact for four pairs; the last entry in centred
// coordinates is set to 1, so the centre of the points must not lie on the
// horizon – it never does for points that were seen.
func FindHomography(pairs []Pair) (Homography, error) {
	if len(pairs) < 4 {
		return Homography{}, ErrSingular
	}
	board, seen := make([][2]float64, len(pairs)), make([][2]float64, len(pairs))
	for i, p := range pairs {
		board[i], seen[i] = [2]float64{p.Board.X, p.Board.Y}, [2]float64{p.Seen.X, p.Seen.Y}
	}
	cb, sb := centre(board)
	cs, ss := centre(seen)
	if !(sb > 0 && ss > 0) {
		return Homography{}, ErrSingular
	}
	n, g := linear.NewSymmetric(8), make([]float64, 8)
	for i := range pairs {
		x, y := (board[i][0]-cb[0])/sb, (board[i][1]-cb[1])/sb
		u, v := (seen[i][0]-cs[0])/ss, (seen[i][1]-cs[1])/ss
		accumulate(n, g, [8]float64{x, y, 1, 0, 0, 0, -u * x, -u * y}, u)
		accumulate(n, g, [8]float64{0, 0, 0, x, y, 1, -v * x, -v * y}, v)
	}
	root, err := n.Factor()
	if err != nil {
		return Homography{}, determined(err)
	}
	root.Solve(g)
	h := frame.Rotation{{g[0], g[1], g[2]}, {g[3], g[4], g[5]}, {g[6], g[7], 1}}
	in := frame.Rotation{{1 / sb, 0, -cb[0] / sb}, {0, 1 / sb, -cb[1] / sb}, {0, 0, 1}}
	out := frame.Rotation{{ss, 0, cs[0]}, {0, ss, cs[1]}, {0, 0, 1}}
	m := Homography(out.Mul(h).Mul(in))
	return m.normalised()
}

func (h Homography) normalised() (Homography, error) {
	k := h[2][2]
	if math.Abs(k) < 1e-12 {
		return Homography{}, ErrSingular
	}
	for i := range h {
		for j := range h[i] {
			h[i][j] /= k
		}
	}
	return h, nil
}

// accumulate adds one equation a·x = b to the normal equations.
func accumulate(n linear.Symmetric, g []float64, a [8]float64, b float64) {
	for i, ai := range a {
		if ai == 0 {
			continue
		}
		g[i] += ai * b
		row := n.Row(i)
		for j, aj := range a {
			row[j] += ai * aj
		}
	}
}

// centre returns the mean and the root mean linear.Symmetric distance from it.
func centre(p [][2]float64) (c [2]float64, spread float64) {
	for _, q := range p {
		c[0] += q[0] / float64(len(p))
		c[1] += q[1] / float64(len(p))
	}
	for _, q := range p {
		spread += (q[0]-c[0])*(q[0]-c[0]) + (q[1]-c[1])*(q[1]-c[1])
	}
	return c, math.Sqrt(spread / float64(len(p)))
}
