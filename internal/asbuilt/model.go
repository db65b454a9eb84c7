// SPDX-License-Identifier: Apache-2.0

// Package asbuilt estimates from sightings of a carried piece how a machine was truly
// built: what its axes go for what they count, how square they are, where the board lies
// on them, their backlash, and how far a piece trails the magnet. Arithmetic only.
package asbuilt

import (
	"math"

	"boardhand/internal/frame"
)

// Sighting is a piece seen at rest over a raised magnet.
type Sighting struct {
	Motors frame.Spot[frame.Machine] // where the axes count to be, m
	Side   [2]float64                // which way each axis last moved: −1 or +1
	Drag   frame.Spot[frame.Board]   // unit vector of the stretch that the piece was dragged last
	Seen   frame.Spot[frame.Board]   // where the picture shows it, m
	Sigma  float64                   // standard deviation of each coordinate of Seen, m
}

// Machine is how a machine was built. Frame: the counts of the axes to the board.
type Machine struct {
	Scale    [2]float64                // true travel of each axis over the counted
	Skew     float64                   // the y axis leans so far towards x, rad
	Turn     float64                   // of the board on the machine, rad
	Centre   frame.Spot[frame.Machine] // of the field, as the true machine measures, m
	Backlash [2]float64                // of each axis, in full, m
	Lag      float64                   // of a dragged piece behind the magnet, m
}

// MachineFromBoard is the map from the board to the counts.
func (m Machine) MachineFromBoard() frame.Affine[frame.Machine, frame.Board] {
	return frame.Built[frame.Machine, frame.Board](m.Scale, m.Skew, m.Turn, m.Centre)
}

// Magnet is where on the board the magnet is when the axes count so, having come from
// a side: m. An axis with play b carries its magnet b/2 behind.
func (m Machine) Magnet(at frame.Spot[frame.Machine], side [2]float64) frame.Spot[frame.Board] {
	x, y := (at.X-side[0]*m.Backlash[0]/2)*m.Scale[0], (at.Y-side[1]*m.Backlash[1]/2)*m.Scale[1]
	sin, cos := math.Sincos(m.Skew)
	x, y = x+y*sin-m.Centre.X, y*cos-m.Centre.Y
	sin, cos = math.Sincos(m.Turn)
	return frame.Spot[frame.Board]{X: cos*x + sin*y, Y: -sin*x + cos*y}
}

// Predict is where a sighting should see its piece.
func (m Machine) Predict(s Sighting) frame.Spot[frame.Board] {
	return m.Magnet(s.Motors, s.Side).Sub(s.Drag.Scale(m.Lag))
}

// The parameters as a vector.
const parameters = 9

func (m Machine) vector() []float64 {
	return []float64{m.Scale[0], m.Scale[1], m.Skew, m.Turn, m.Centre.X, m.Centre.Y, m.Backlash[0], m.Backlash[1], m.Lag}
}

func machineOf(p []float64) Machine {
	return Machine{Scale: [2]float64{p[0], p[1]}, Skew: p[2], Turn: p[3], Centre: frame.Spot[frame.Machine]{X: p[4], Y: p[5]},
		Backlash: [2]float64{p[6], p[7]}, Lag: p[8]}
}
