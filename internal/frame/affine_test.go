// SPDX-License-Identifier: Apache-2.0

package frame

import (
	"math"
	"testing"
)

// A map and its inverse undo each other; a pose in the plane is one of them.
func TestAffine(t *testing.T) {
	a := Affine[Machine, Board]{M: [2][2]float64{{1.01, 0.02}, {-0.015, 0.98}}, T: Spot[Machine]{0.17, 0.16}}
	p := Spot[Board]{0.11, -0.07}
	if q := a.Inverse().Apply(a.Apply(p)); q.Distance(p) > 1e-15 {
		t.Errorf("%v came back as %v", p, q)
	}
	pose := Pose[Machine, Board]{R: FromVector([3]float64{0, 0, 0.3}), T: Point[Machine]{X: 0.17, Y: 0.16}}
	if d := pose.Planar().Apply(p).Distance(pose.Apply(p.At(0)).Spot()); d > 1e-15 {
		t.Errorf("the pose in the plane is %g m off", d)
	}
}

// The counts of axes as built lead back to the place: by hand, for a machine whose y
// axis leans, whose axes stretch and on which the board is turned.
func TestBuilt(t *testing.T) {
	scale, skew, turn, centre := [2]float64{1.012, 0.99}, 0.0122, 0.0087, Spot[Machine]{0.171, 0.165}
	p := Spot[Board]{0.12, -0.08}
	c := Built[Machine, Board](scale, skew, turn, centre).Apply(p)
	x, y := c.X*scale[0]+c.Y*scale[1]*math.Sin(skew), c.Y*scale[1]*math.Cos(skew)
	sin, cos := math.Sincos(turn)
	if dx, dy := x-(cos*p.X-sin*p.Y+centre.X), y-(sin*p.X+cos*p.Y+centre.Y); math.Hypot(dx, dy) > 1e-15 {
		t.Errorf("off by %g, %g m", dx, dy)
	}
	none := Built[Machine, Board]([2]float64{1, 1}, 0, 0, centre)
	if d := none.Apply(p).Distance(Spot[Machine]{p.X + centre.X, p.Y + centre.Y}); d > 1e-15 {
		t.Errorf("a machine as drawn is %g m off", d)
	}
}
