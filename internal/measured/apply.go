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
		Backlash: pair(m.Backlash[0], m.Backlash[1]), Lag: unit.Length(m.Lag), Outward: unit.Length(m.Outward),
		ScaleSigma: s.Scale, SkewSigma: unit.Angle(s.Skew), TurnSigma: unit.Angle(s.Turn), CentreSigma: pair(s.Centre.X, s.Centre.Y),
		BacklashSigma: pair(s.Backlash[0], s.Backlash[1]), LagSigma: unit.Length(s.Lag), RMS: unit.Length(f.RMS)}
}

// Estimated is the machine that the figures describe.
func (a *Axes) Estimated() asbuilt.Machine {
	return asbuilt.Machine{Scale: a.Scale, Skew: float64(a.Skew), Turn: float64(a.Turn),
		Centre:   frame.Spot[frame.Machine]{X: float64(a.Centre[0]), Y: float64(a.Centre[1])},
		Backlash: [2]float64{float64(a.Backlash[0]), float64(a.Backlash[1])}, Lag: float64(a.Lag), Outward: float64(a.Outward)}
}

// AsDrawn is the machine that a rig file describes.
func AsDrawn(r *rig.Rig) asbuilt.Machine {
	return asbuilt.Machine{Scale: [2]float64{1, 1}, Centre: frame.Spot[frame.Machine]{X: float64(r.Axis.X.Origin), Y: float64(r.Axis.Y.Origin)},
		Backlash: [2]float64{float64(r.Axis.X.Backlash), float64(r.Axis.Y.Backlash)}}
}

// Apply gives a rig what was measured at the machine of that name; a sentence says
// what is used, or why it is not, "" where nothing was measured.
func (f *File) Apply(r *rig.Rig, machine string) string {
	switch {
	case f.Axes == nil:
		return ""
	case f.Machine != machine:
		return fmt.Sprintf("%s was measured at another machine (%s; this is %s): the axes are taken from the rig file. Run `boardhand bringup %s` here.", Name, f.Machine, machine, r.Path)
	}
	m := f.Axes.Estimated()
	r.Built = &rig.Built{MachineFromBoard: m.MachineFromBoard(), Backlash: [2]float64{max(0, m.Backlash[0]), max(0, m.Backlash[1])}}
	return fmt.Sprintf("The axes are those that bring-up measured (%s).", f.Axes.When)
}

// Twin is the name of the twin of a seed.
func Twin(seed int64) string { return fmt.Sprintf("twin, seed %d", seed) }
