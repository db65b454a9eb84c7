// SPDX-License-Identifier: Apache-2.0

package mechanics

import (
	"math"

	"boardhand/internal/frame"
)

// crook is what is wrong with the frame that the axes run in: where the
// carriage truly goes for where its axes are counted to be.
type crook struct {
	skew  float64    // rad: the y axis leans so far towards x
	scale [2]float64 // true travel over counted, of each axis
}

// newCrook is how the machine was built, and what its faults add to that.
func newCrook(b Build) crook {
	skewed, scaled := b.Skewed, b.Scaled
	c := crook{skew: b.Skew, scale: [2]float64{1 + b.Stretch[0], 1 + b.Stretch[1]}}
	if skewed != nil {
		c.skew += math.Copysign(skewAngle, skewed.Float64()-0.5)
	}
	if scaled != nil {
		by := math.Copysign(scaleError, scaled.Float64()-0.5)
		which := 1 + scaled.IntN(3) // x, y or both: bit by bit
		for i := range c.scale {
			if which&(1<<i) != 0 {
				c.scale[i] += by
			}
		}
	}
	return c
}

// Truly is where on the board the magnet's axis is when the carriage is at a
// place of the machine's own axes. The errors grow from the switches, where the
// machine was set to the board.
func (c *Carriage) Truly(at frame.Spot[frame.Machine]) frame.Spot[frame.Board] {
	x, y := at.X*c.crook.scale[0], at.Y*c.crook.scale[1]
	if c.crook.skew != 0 {
		sin, cos := math.Sincos(c.crook.skew)
		x, y = x+y*sin, y*cos
	}
	return c.pose.boardFromMachine.Apply(frame.Point[frame.Machine]{X: x, Y: y}).Spot()
}

// Crooked is what is wrong with the axes: by how much the y axis leans towards x, rad,
// and by which share each goes farther than it counts.
func (c *Carriage) Crooked() (skew float64, scale [2]float64) {
	return c.crook.skew, [2]float64{c.crook.scale[0] - 1, c.crook.scale[1] - 1}
}

// Misscaled names the axes that go farther, or less far, than they count: "x",
// "y", "xy" or "".
func (c *Carriage) Misscaled() (axes string) {
	for i, s := range c.crook.scale {
		if s != 1 {
			axes += AxisName(i)
		}
	}
	return axes
}
