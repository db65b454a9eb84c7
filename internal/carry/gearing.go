// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"math"

	"boardhand/internal/carry/limits"
	"boardhand/internal/carry/plan"
	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/rig"
)

// Gearing turns paths on the board into strokes of the motors. An axis with
// play b carries the carriage b/2 behind its motor, whichever way it last
// moved; so the motor is sent b/2 further that way. Where an axis turns round,
// the motor takes up the play over a short stretch of the way.
//
// Frame: Board in, Machine out. The zero side (0) means that nobody knows
// which way the axis last moved.
type Gearing struct {
	MachineFromBoard frame.Affine[frame.Machine, frame.Board]
	Backlash         [2]float64 // m, of the x and y axis
	side             [2]float64 // −1, 0, +1: which way each axis last moved
	entry            *plan.Step // from where the switches are to where plans may begin; nil: they may there
}

// NewGearing returns the gearing of a rig just homed; homing runs both axes
// backwards to their switches.
func NewGearing(r *rig.Rig, machineFromBoard frame.Pose[frame.Machine, frame.Board]) *Gearing {
	g := &Gearing{MachineFromBoard: machineFromBoard.Planar(),
		Backlash: [2]float64{float64(r.Axis.X.Backlash), float64(r.Axis.Y.Backlash)}}
	g.Homed()
	return g
}

// GearingOf is the gearing of a rig as it was measured; as its file has it where it was not.
func GearingOf(r *rig.Rig) *Gearing {
	g := NewGearing(r, r.MachineFromBoard())
	if b := r.Built; b != nil {
		g.MachineFromBoard, g.Backlash = b.MachineFromBoard, b.Backlash
		g.entry = entry(r, g.Carriage(frame.Spot[frame.Machine]{}))
	}
	return g
}

// entry is the travel from the switches into the rectangle that plans keep to: axes that
// are not square, or a board that is turned on them, leave them outside of it.
func entry(r *rig.Rig, home frame.Spot[frame.Board]) *plan.Step {
	in := limits.Inside(r)
	if in.Holds(home) {
		return nil
	}
	in = in.Inset(entryMargin)
	to := frame.Spot[frame.Board]{X: max(in.Min.X, min(in.Max.X, home.X)), Y: max(in.Min.Y, min(in.Max.Y, home.Y))}
	return &plan.Step{Do: plan.Travel, Path: []frame.Spot[frame.Board]{home, to},
		Speed: min(r.Axis.X.Speed, r.Axis.Y.Speed), Accel: min(r.Axis.X.Acceleration, r.Axis.Y.Acceleration)}
}

// Entry is the step that a machine just homed does first; false where none is needed.
func (g *Gearing) Entry() (plan.Step, bool) {
	if g.entry == nil {
		return plan.Step{}, false
	}
	return *g.entry, true
}

// Homed notes that both axes have just run backwards to their switches.
func (g *Gearing) Homed() { g.side = [2]float64{-1, -1} }

// Carriage is where the magnet's axis is when the motors stand at m.
func (g *Gearing) Carriage(m frame.Spot[frame.Machine]) frame.Spot[frame.Board] {
	m.X -= g.side[0] * g.Backlash[0] / 2
	m.Y -= g.side[1] * g.Backlash[1] / 2
	return g.MachineFromBoard.Inverse().Apply(m)
}

// Stroke is the step's path for the motors; it notes which way the axes end.
func (g *Gearing) Stroke(s plan.Step) motion.Stroke {
	out := motion.Stroke{Speed: s.Speed, Accel: s.Accel, Jerk: s.Jerk, Blend: motion.Blend}
	if len(s.Path) == 0 {
		return out
	}
	path := make([]frame.Spot[frame.Machine], len(s.Path))
	for i, p := range s.Path {
		path[i] = g.MachineFromBoard.Apply(p)
	}
	lean := [2]float64{g.side[0] * g.Backlash[0] / 2, g.side[1] * g.Backlash[1] / 2}
	out.Path = append(out.Path, shifted(path[0], lean))
	for i := 1; i < len(path); i++ {
		g.turn(path[i-1], path[i])
		rest := remaining(path[i:], path[i].Sub(path[i-1]))
		out.Path = g.leg(out.Path, path[i-1], path[i], &lean, rest)
	}
	return out
}

// turn notes which way the axes move from a to b.
func (g *Gearing) turn(a, b frame.Spot[frame.Machine]) {
	for k, d := range [2]float64{b.X - a.X, b.Y - a.Y} {
		if math.Abs(d) > stillness {
			g.side[k] = math.Copysign(1, d)
		}
	}
}

// remaining is how far the way runs on from its first place before it doubles
// back: there the play must be taken up.
func remaining(path []frame.Spot[frame.Machine], before frame.Spot[frame.Machine]) float64 {
	l := 0.0
	for i := 1; i < len(path); i++ {
		d := path[i].Sub(path[i-1])
		if d.Dot(before) < 0 {
			break
		}
		l, before = l+d.Norm(), d
	}
	return l
}

// leg appends the motors' way from a to b; lean moves towards what the axes
// now need, evenly over takeUp or over what is left of the way.
func (g *Gearing) leg(out []frame.Spot[frame.Machine], a, b frame.Spot[frame.Machine], lean *[2]float64, rest float64) []frame.Spot[frame.Machine] {
	length := b.Sub(a).Norm()
	want := [2]float64{g.side[0] * g.Backlash[0] / 2, g.side[1] * g.Backlash[1] / 2}
	over := math.Min(takeUp, length+rest)
	if *lean == want || length == 0 {
		return append(out, shifted(b, want))
	}
	share := 0.0 // of the rest of the play, per metre
	for k := range lean {
		if g.Backlash[k] > 0 {
			share = math.Max(share, math.Abs(want[k]-lean[k])/g.Backlash[k])
		}
	}
	need := over * share // way over which this much play is taken up
	if need < length {   // done before b: one corner more
		t := need / length
		at := frame.Spot[frame.Machine]{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)}
		*lean = want
		return append(out, shifted(at, want), shifted(b, want))
	}
	for k := range lean {
		lean[k] += (want[k] - lean[k]) * length / need
	}
	return append(out, shifted(b, *lean))
}

func shifted(p frame.Spot[frame.Machine], by [2]float64) frame.Spot[frame.Machine] {
	return frame.Spot[frame.Machine]{X: p.X + by[0], Y: p.Y + by[1]}
}
