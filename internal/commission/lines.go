// SPDX-License-Identifier: Apache-2.0

// Package commission writes the record of a bring-up: what was measured beside what was
// planned, what differs by more than its tolerance, and why that is likely.
package commission

import (
	"fmt"
	"math"
	"slices"

	"boardhand/internal/carry/limits"
	"boardhand/internal/measured"
	"boardhand/internal/rig"
)

// Line is one figure of the record.
type Line struct {
	Step     string // of the bring-up, as in the file of what was measured
	What     string
	Planned  float64
	Measured float64
	Sigma    float64 // standard deviation; 0: not known
	Allowed  float64 // by which measured may differ from planned
	Unit     string
	Cause    string // why it is likely off, and what to do
	isAtMost bool   // only more than planned is off
	isLeast  bool   // only less than planned is off
}

// IsOff says whether the figure differs from its plan by more than is allowed.
func (l Line) IsOff() bool {
	d := l.Measured - l.Planned
	switch {
	case l.isAtMost:
		return d > l.Allowed
	case l.isLeast:
		return d < -l.Allowed
	}
	return math.Abs(d) > l.Allowed
}

// Lines are the figures of what was measured.
func Lines(r *rig.Rig, f *measured.File) []Line {
	var out []Line
	if f.Axes != nil {
		out = append(out, of("axes", axisLines(r, f.Axes), lagLine(r, f.Axes))...)
	}
	if f.Lead != nil {
		out = append(out, Line{Step: "lead", What: "set down beyond its place", Measured: f.Lead.Along.MM(), Allowed: leadOff, Unit: "mm",
			Cause: "friction or magnets differ from the rig file: pieces stop short or run on; measure board.friction by tilting the board until a piece slides"})
	}
	if n := f.Returns; n != nil {
		out = append(out, Line{Step: "returns", What: "scatter of returns to one place", Measured: max(n.Sigma[0], n.Sigma[1]).MM(), Allowed: returnsOff, Unit: "mm", isAtMost: true,
			Cause: "something is loose or slips: the pinion or pulley on its shaft, the magnet in its holder, a carriage that rocks on its guides"})
	}
	if v := f.Speed; v != nil {
		planned := 0.0
		if l, err := limits.Of(r); err == nil {
			planned = 1e3 * min(l.Carry.Most.Speed, float64(max(r.Axis.X.Speed, r.Axis.Y.Speed))) // tried along one axis
		}
		out = append(out, Line{Step: "speed", What: "fastest carry that kept the piece", Planned: planned, Measured: float64(v.Kept) * 1e3, Allowed: 1, Unit: "mm/s", isLeast: true,
			Cause: "the magnets pull less than planned, the board is thicker, or it is rougher: lower axis.x.speed and axis.y.speed"})
	}
	if g := f.Gap; g != nil {
		out = append(out, of("gap", gapLine(r, g))...)
	}
	if c := f.Camera; c != nil {
		out = append(out, of("camera", cameraLines(r, c))...)
	}
	return out
}

// of are figures that one step measured.
func of(step string, lines ...[]Line) []Line {
	out := slices.Concat(lines...)
	for k := range out {
		out[k].Step = step
	}
	return out
}

// Words are planned, measured, standard deviation ("" where it is not known) and what is
// allowed, with the digits that the unit deserves.
func (l Line) Words() (planned, measured, sigma, allowed string) {
	sign := "± "
	switch {
	case l.isAtMost:
		sign = "+ "
	case l.isLeast:
		sign = "− "
	}
	if l.Sigma > 0 {
		sigma = "± " + number(l.Sigma, l.Unit)
	}
	return number(l.Planned, l.Unit), number(l.Measured, l.Unit), sigma, sign + number(l.Allowed, l.Unit)
}

// gapLine is how near pieces pass each other, beside the formula for the worst of them.
func gapLine(r *rig.Rig, g *measured.Gap) []Line {
	l, err := limits.Of(r)
	if err != nil {
		return nil
	}
	return []Line{{What: "nearest pass that left a piece standing", Planned: (l.SafePass + l.SafeSpread) * 1e3, Measured: max(g.Safe, g.Dragged).MM(), Allowed: gapOff, Unit: "mm", isAtMost: true,
		Cause: "the magnets pull more than planned, the board is thinner, or smoother: measure board.thickness and board.friction, or take a weaker magnet for the lift"}}
}

// axisLines are the figures of the axes as built.
func axisLines(r *rig.Rig, a *measured.Axes) (out []Line) {
	for k, axis := range []rig.Axis{r.Axis.X, r.Axis.Y} {
		name := [2]string{"x", "y"}[k]
		part := map[string]string{"belt": "pitch or teeth of the pulley", "screw": "lead of the screw"}[axis.Drive]
		if part == "" {
			part = "module or teeth of the pinion, a printed rack that shrank"
		}
		out = append(out, Line{What: name + " axis: way over counted way", Planned: 1, Measured: a.Scale[k], Sigma: a.ScaleSigma[k], Allowed: scaleOff,
			Cause: fmt.Sprintf("%s, or counts a turn: %.5g counts a turn would be right for axis.%s.motor", part, float64(axis.Motor.Counts)/a.Scale[k], name)})
	}
	frame := fmt.Sprintf("the frame is out of square: of two diagonals one is %.1f mm longer; loosen it, set the y axis %s, tighten it",
		math.Abs(2*math.Sin(float64(a.Skew)/2))*math.Hypot(r.Axis.X.Travel.MM(), r.Axis.Y.Travel.MM())/math.Sqrt2, map[bool]string{true: "back to the left at its far end", false: "to the right at its far end"}[a.Skew > 0])
	out = append(out,
		Line{What: "axes out of square", Measured: a.Skew.Degrees(), Sigma: a.SkewSigma.Degrees(), Allowed: skewOff, Unit: "deg", Cause: frame},
		Line{What: "board turned on the machine", Measured: a.Turn.Degrees(), Sigma: a.TurnSigma.Degrees(), Allowed: turnOff, Unit: "deg",
			Cause: "the sheet lies askew: turn it, or leave it, for carries allow for it"})
	for k, axis := range []rig.Axis{r.Axis.X, r.Axis.Y} {
		name := [2]string{"x", "y"}[k]
		out = append(out,
			Line{What: "field's centre on " + name, Planned: axis.Origin.MM(), Measured: a.Centre[k].MM(), Sigma: a.CentreSigma[k].MM(), Allowed: centreOff, Unit: "mm",
				Cause: fmt.Sprintf("switch or sheet sit elsewhere: write origin = \"%.1f mm\" into [axis.%s], so that assess knows what the carriage reaches", a.Centre[k].MM(), name)},
			Line{What: "backlash of " + name, Planned: axis.Backlash.MM(), Measured: a.Backlash[k].MM(), Sigma: a.BacklashSigma[k].MM(), Allowed: backlashOff, Unit: "mm", isAtMost: true,
				Cause: map[string]string{"belt": "the belt is slack", "screw": "the nut is worn"}[axis.Drive] + map[bool]string{true: "the pinion stands off its rack: bring it closer", false: ": tighten it"}[axis.Drive == "rack"]})
	}
	return out
}

// lagLine is how far pieces trail, beside the formula.
func lagLine(r *rig.Rig, a *measured.Axes) []Line {
	l, err := limits.Of(r)
	if err != nil {
		return nil
	}
	return []Line{{What: "lag of a carried piece", Planned: l.Lag * 1e3, Measured: a.Lag.MM(), Sigma: a.LagSigma.MM(), Allowed: max(lagOff, l.LagSpread*1e3), Unit: "mm",
		Cause: "friction, board thickness or magnets differ from the rig file: weigh a piece, measure board.friction and board.thickness"}}
}

// cameraLines are where the camera hangs.
func cameraLines(r *rig.Rig, c *measured.Camera) []Line {
	return []Line{
		{What: "camera over the board", Planned: r.Camera.Height.MM(), Measured: c.Height.MM(), Sigma: c.Sigma[2].MM(), Allowed: heightOff * r.Camera.Height.MM(), Unit: "mm",
			Cause: "the lens hangs higher or lower: measure it, and set camera.height"},
		{What: "camera beside the field's centre", Measured: math.Hypot(c.X.MM(), c.Y.MM()), Sigma: max(c.Sigma[0], c.Sigma[1]).MM(), Allowed: asideOff, Unit: "mm", isAtMost: true,
			Cause: "it hangs to one side, so that pieces on the other lean farther over their neighbours"},
		{What: "camera's tilt", Measured: c.Tilt.Degrees(), Allowed: tiltOff, Unit: "deg", isAtMost: true, Cause: "it does not look straight down: turn it with a spirit level on its housing"},
	}
}
