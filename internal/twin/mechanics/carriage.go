// SPDX-License-Identifier: Apache-2.0

package mechanics

import (
	"fmt"
	"math"
	"math/rand/v2"

	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Carriage is the machine under the board: two axes in a frame, and a lift.
type Carriage struct {
	Lift float64 // 0 lowered … 1 raised

	rig   *rig.Rig
	axes  [2]axis
	pose  pose
	crook crook
	jam   jam
}

// Build is how a built machine differs from its rig file.
type Build struct {
	Shift frame.Spot[frame.Machine] // of the field's centre, m
	Turn  float64                   // of the board on the machine, rad
	Skew  float64                   // the y axis leans so far towards x, rad
	// Of each axis: true travel over the counted, less 1, and its play beyond the rig's
	// backlash, m; together never less than none.
	Stretch, Play [2]float64
	// What is wrong with it; nil: nothing.
	Skewed, Scaled     *rand.Rand // the axes are not square; go farther or less far than they count
	StaysUp, StaysDown *rand.Rand // the lift catches on its way down; goes up no more from some moment on
}

// New builds the machine with its magnet lowered. An error names the
// axis whose drive makes no sense.
func New(r *rig.Rig, b Build) (*Carriage, error) {
	c := &Carriage{rig: r, pose: newPose(r, b), crook: newCrook(b), jam: newJam(b.StaysUp, b.StaysDown)}
	for i, spec := range [2]rig.Axis{r.Axis.X, r.Axis.Y} {
		var err error
		spec.Backlash = max(0, spec.Backlash+unit.Length(b.Play[i]))
		if c.axes[i], err = newAxis(spec, r.Power.Driven(spec.Motor)); err != nil {
			return nil, fmt.Errorf("axis.%s: %w", AxisName(i), err)
		}
	}
	return c, nil
}

// AxisName is "x" for 0 and "y" for 1.
func AxisName(i int) string { return [...]string{"x", "y"}[i] }

// Motors is where the motors are by their own counts, m.
func (c *Carriage) Motors() frame.Spot[frame.Machine] {
	return frame.Spot[frame.Machine]{X: c.axes[0].motor, Y: c.axes[1].motor}
}

// Reported is where the controller says that the carriage is, in whole counts, m.
func (c *Carriage) Reported() frame.Spot[frame.Machine] {
	return frame.Spot[frame.Machine]{X: c.axes[0].counted(), Y: c.axes[1].counted()}
}

// Magnet is where the drive magnet's axis truly is, m.
func (c *Carriage) Magnet() frame.Spot[frame.Board] {
	return c.Truly(frame.Spot[frame.Machine]{X: c.axes[0].carriage(), Y: c.axes[1].carriage()})
}

// Behind is how far each motor is from where it should be, m.
func (c *Carriage) Behind(target frame.Spot[frame.Machine]) [2]float64 {
	return [2]float64{math.Abs(target.X - c.axes[0].motor), math.Abs(target.Y - c.axes[1].motor)}
}

// Drive gives both motors their targets for one step, against the friction rub
// of the magnet's cap under the board and the load that the pieces put on the
// magnet, newtons; false when one could not follow.
func (c *Carriage) Drive(target frame.Spot[frame.Machine], load frame.Spot[frame.Board], rub float64) bool {
	force := frame.Pose[frame.Machine, frame.Board]{R: c.pose.machineFromBoard.R}.Apply(load.At(0))
	to, ok := [2]float64{target.X, target.Y}, true
	for i, f := range [2]float64{force.X, force.Y} {
		a := &c.axes[i]
		resist := rub - f*math.Copysign(1, to[i]-a.motor) // a pull onwards helps
		if !a.follow(to[i], math.Max(0, resist)) {
			ok = false
		}
	}
	return ok
}

// Stop takes the speed out of both axes at once.
func (c *Carriage) Stop() {
	for i := range c.axes {
		c.axes[i].stand()
	}
}

// Zero is what happens at the switches: the counts begin anew, off the truth by
// lost, m.
func (c *Carriage) Zero(lost [2]float64) {
	for i := range c.axes {
		a := &c.axes[i]
		a.motor, a.slip = 0, false
		a.stand()
		a.slack = float64(a.spec.Backlash) / 2 // came from the far side
		a.lost = lost[i]
	}
}

// Stalled is a *motion.Stall when an axis has stopped short; that axis stands then.
func (c *Carriage) Stalled() error {
	for i := range c.axes {
		if a := &c.axes[i]; a.stuck > stallTime {
			a.stand()
			return &motion.Stall{Axis: AxisName(i), At: unit.Length(a.counted())}
		}
	}
	return nil
}

// Lag is a *motion.Lag of the axis that was farthest behind, if that was beyond
// the tolerance.
func Lag(behind [2]float64) error {
	i := 0
	if behind[1] > behind[0] {
		i = 1
	}
	if behind[i] <= Tolerance {
		return nil
	}
	return &motion.Lag{Axis: AxisName(i), Behind: unit.Length(behind[i])}
}

// HasArrived says whether both motors are at a place.
func (c *Carriage) HasArrived(end frame.Spot[frame.Machine]) bool {
	b := c.Behind(end)
	return b[0] < arrived && b[1] < arrived
}

// Check is the controller's own look at a stroke before it runs it: an error
// names the axis whose travel it leaves.
func (c *Carriage) Check(s motion.Stroke) error {
	const soft = 1e-6 // m beyond the travel: rounding of a path that runs along its end
	for _, p := range s.Path {
		for i, v := range [2]float64{p.X, p.Y} {
			most := float64(c.axes[i].spec.Travel)
			if !(v >= -soft && v <= most+soft) {
				return fmt.Errorf("the stroke leaves axis %s at %.1f mm: its travel is 0–%.1f mm; plan within it", AxisName(i), v*1e3, most*1e3)
			}
		}
	}
	return nil
}

// LiftStep is the share of its way that the lift goes in one step.
func (c *Carriage) LiftStep() float64 {
	return Step * float64(c.rig.Lift.Speed) / math.Max(float64(c.rig.Lift.Drop), 1e-6)
}
