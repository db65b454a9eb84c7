package twin

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

// newCrook builds the frame with the faults that are on.
func (w *World) newCrook() crook {
	c := crook{scale: [2]float64{1, 1}}
	if w.faults[AxesSkewed] {
		c.skew = math.Copysign(skewAngle, w.dice(AxesSkewed).Float64()-0.5)
	}
	if w.faults[AxesScaled] {
		chance := w.dice(AxesScaled)
		by := math.Copysign(scaleError, chance.Float64()-0.5)
		which := 1 + chance.IntN(3) // x, y or both: bit by bit
		for i := range c.scale {
			if which&(1<<i) != 0 {
				c.scale[i] += by
			}
		}
	}
	return c
}

// truly is where on the board the magnet's axis is when the carriage is at a
// place of the machine's own axes. The errors grow from the switches, where the
// machine was set to the board.
func (w *World) truly(at frame.Spot[frame.Machine]) frame.Spot[frame.Board] {
	x, y := at.X*w.crook.scale[0], at.Y*w.crook.scale[1]
	if w.crook.skew != 0 {
		sin, cos := math.Sincos(w.crook.skew)
		x, y = x+y*sin, y*cos
	}
	return w.pose.boardFromMachine.Apply(frame.Point[frame.Machine]{X: x, Y: y}).Spot()
}
