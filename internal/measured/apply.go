// SPDX-License-Identifier: Apache-2.0

package measured

import (
	"fmt"

	"boardhand/internal/asbuilt"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Of is the figures of an estimate.
func Of(f asbuilt.Fit, when string) *Axes {
	m, s := f.Machine, f.Sigma
	pair := func(a, b float64) [2]unit.Length { return [2]unit.Length{unit.Length(a), unit.Length(b)} }
	return &Axes{When: when, Scale: m.Scale, Skew: unit.Angle(m.Skew), Turn: unit.Angle(m.Turn), Centre: pair(m.Centre.X, m.Centre.Y),
		Backlash: pair(m.Backlash[0], m.Backlash[1]), Lag: unit.Length(m.Lag),
		ScaleSigma: s.Scale, SkewSigma: unit.Angle(s.Skew), TurnSigma: unit.Angle(s.Turn), CentreSigma: pair(s.Centre.X, s.Centre.Y),
		BacklashSigma: pair(s.Backlash[0], s.Backlash[1]), LagSigma: unit.Length(s.Lag), RMS: unit.Length(f.RMS)}
}

// Estimated is the machine that the figures describe.
func (a *Axes) Estimated() asbuilt.Machine {
	return asbuilt.Machine{Scale: a.Scale, Skew: float64(a.Skew), Turn: float64(a.Turn),
		Centre:   frame.Spot[frame.Machine]{X: float64(a.Centre[0]), Y: float64(a.Centre[1])},
		Backlash: [2]float64{float64(a.Backlash[0]), float64(a.Backlash[1])}, Lag: float64(a.Lag)}
}

// AsDrawn is the machine that a rig file describes.
func AsDrawn(r *rig.Rig) asbuilt.Machine {
	return asbuilt.Machine{Scale: [2]float64{1, 1}, Centre: frame.Spot[frame.Machine]{X: float64(r.Axis.X.Origin), Y: float64(r.Axis.Y.Origin)},
		Backlash: [2]float64{float64(r.Axis.X.Backlash), float64(r.Axis.Y.Backlash)}}
}

// Apply gives a rig what was measured at the machine of that name; a sentence says
// what is used, or why it is not, "" where nothing was measured.
func (f *File) Apply(r *rig.Rig, machine string) string {
	seen := f.View(r)
	switch {
	case f.Axes == nil && seen == nil:
		return ""
	case f.Machine != machine:
		return fmt.Sprintf("%s was measured at another machine (%s; this is %s): axes and lens are taken from the rig file. Run `boardhand bringup %s` here.", Name, f.Machine, machine, r.Path)
	}
	r.Seen, r.Hung = seen, seen != nil && f.Camera != nil && f.Camera.Turn != [3]float64{}
	if f.Axes == nil {
		return fmt.Sprintf("The lens is the one that bring-up measured (%s).", f.Lens.When)
	}
	m := f.Axes.Estimated()
	r.Built = Built(r, m)
	if seen == nil {
		return fmt.Sprintf("The axes are those that bring-up measured (%s).", f.Axes.When)
	}
	return fmt.Sprintf("Axes and lens are those that bring-up measured (%s, %s).", f.Axes.When, f.Lens.When)
}

// Built is what carries need of a machine.
func Built(r *rig.Rig, m asbuilt.Machine) *rig.Built {
	b := &rig.Built{MachineFromBoard: m.MachineFromBoard(), Backlash: [2]float64{max(0, m.Backlash[0]), max(0, m.Backlash[1])}}
	x, y := b.Backlash[0]/2, b.Backlash[1]/2 // what either side takes of the travel
	right, back := float64(r.Axis.X.Travel)-x, float64(r.Axis.Y.Travel)-y
	boardFromMachine := b.MachineFromBoard.Inverse()
	at := func(x, y float64) frame.Spot[frame.Board] {
		return boardFromMachine.Apply(frame.Spot[frame.Machine]{X: x, Y: y})
	}
	a, c, d, e := at(x, y), at(right, y), at(right, back), at(x, back)
	b.Inside = frame.Rect[frame.Board]{Min: frame.Spot[frame.Board]{X: max(a.X, e.X), Y: max(a.Y, c.Y)}, Max: frame.Spot[frame.Board]{X: min(c.X, d.X), Y: min(d.Y, e.Y)}}
	return b
}

// Twin is the name of the twin of a seed.
func Twin(seed int64) string { return fmt.Sprintf("twin, seed %d", seed) }
