// SPDX-License-Identifier: Apache-2.0

package limits

import (
	"fmt"
	"math"

	"boardhand/internal/carry/plan"
	"boardhand/internal/drive"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// jerkOf is the axis' jerk, or ten times its acceleration a second: full
// acceleration within 0.1 s, slow against the swing of a piece on the magnet's
// pull (its own period is about 0.02 s). Common practice, no source.
func jerkOf(a rig.Axis) float64 {
	if a.Jerk > 0 {
		return float64(a.Jerk)
	}
	return 10 * float64(a.Acceleration)
}

// driveOf is what the rig file lets both axes do, one by one and together.
func driveOf(r *rig.Rig) plan.Drive {
	var d plan.Drive
	for i, a := range [2]rig.Axis{r.Axis.X, r.Axis.Y} {
		d.Axes[i] = plan.Bounds{Speed: float64(a.Speed), Accel: float64(a.Acceleration), Jerk: jerkOf(a)}
	}
	x, y := d.Axes[0], d.Axes[1]
	d.Most = plan.Bounds{Speed: math.Hypot(x.Speed, y.Speed), Accel: math.Hypot(x.Accel, y.Accel), Jerk: math.Hypot(x.Jerk, y.Jerk)}
	return d
}

// reserves are what a motor should have over what it needs, best first: half
// as much again, since motor lines are good to a tenth and friction grows with
// dust; a weaker motor is driven with what it has. Common practice, no source.
var reserves = [...]float64{1.5, 1.25, 1}

// gentler are the shares of the acceleration that are tried with each reserve:
// a lower one leaves the motor force for speed.
var gentler = [...]float64{1, 0.7, 0.5, 0.35, 0.25}

// pull lowers speeds and accelerations to what the motors have force for: the
// motor line against the guides' friction, the magnet rubbing on the underside,
// the piece in tow and the moved mass. Newtons along each axis. Range: as
// drive.Train. Accuracy: that of the motor line, a tenth. Source: work a turn
// (drive.Train), Newton, Coulomb friction.
func (c coupling) pull(l *plan.Limits) error {
	for i, a := range []rig.Axis{c.rig.Axis.X, c.rig.Axis.Y} {
		name := [...]string{"x", "y"}[i]
		if a.Motor.StallTorque == 0 {
			continue // nothing is known of the motor
		}
		t, err := trainOf(c.rig, a)
		if err != nil {
			return fmt.Errorf("axis.%s: %w", name, err)
		}
		tow, err := c.towed()
		if err != nil {
			return err
		}
		free := drive.Load{Mass: a.Moved, Friction: a.Friction}
		laden := free
		laden.Friction += unit.Force(c.rubbing())
		laden.Drag = unit.Force(tow)
		if err := weaken(&l.Carry, i, t, laden); err != nil {
			return fmt.Errorf("axis.%s with a piece in tow: %w", name, err)
		}
		if err := weaken(&l.Travel, i, t, free); err != nil {
			return fmt.Errorf("axis.%s: %w", name, err)
		}
	}
	return nil
}

// weaken lowers one axis' speed and acceleration to what its train can give a
// load.
func weaken(d *plan.Drive, i int, t drive.Train, load drive.Load) (err error) {
	a := &d.Axes[i]
	a.Accel = math.Min(a.Accel, d.Most.Accel)
	a.Speed, a.Accel, err = within(t, load, *a)
	return err
}

// within is the speed and acceleration, at most p's, that a train can give a
// load: with the best reserve that it can have, those that are quickest over a
// way of typical length.
func within(t drive.Train, load drive.Load, p plan.Bounds) (speed, accel float64, err error) {
	const typical = 0.12 // m: three squares of 40 mm
	for _, reserve := range reserves {
		quickest := math.Inf(1)
		for _, share := range gentler {
			load.Accel = unit.Acceleration(share * p.Accel)
			top := math.Min(p.Speed, float64(t.Fastest(load.Needs()*unit.Force(reserve))))
			if top < crawl {
				continue
			}
			s, err := drive.SCurve(typical, drive.Limits{Speed: unit.Speed(top), Acceleration: load.Accel, Jerk: unit.Jerk(p.Jerk)})
			if err != nil {
				return 0, 0, err
			}
			if s.Duration() < quickest*(1-1e-9) {
				quickest, speed, accel = s.Duration(), top, float64(load.Accel)
			}
		}
		if !math.IsInf(quickest, 1) {
			return speed, accel, nil
		}
	}
	load.Accel = 0
	return 0, 0, fmt.Errorf("the motor has %.1f N at rest and %.1f N of friction to overcome: gear it lower or take a stronger one", float64(t.ForceAt(0)), float64(load.Needs()))
}

// crawl is the least speed worth calling motion, m/s.
const crawl = 1e-3

// rubbing is the most friction of the raised magnet on the underside, newtons:
// spring over the warp, and the pull of the piece above.
func (c coupling) rubbing() float64 {
	l := c.rig.Lift
	press := float64(l.Preload) + float64(l.Spring)*float64(c.rig.Board.Warp)/2
	if p, err := c.table.At(float64(c.spread.Near), 0); err == nil {
		press += math.Max(0, p.Axial*c.spread.Strong)
	}
	return l.Friction * press
}

// towed is the most that a piece pulls back with, newtons: its static friction
// under the strongest pull. What its mass adds is a thousandth of the carriage.
func (c coupling) towed() (float64, error) {
	worst := 0.0
	p, err := c.table.At(float64(c.spread.Near), 0)
	if err != nil {
		return 0, err
	}
	p.Axial *= c.spread.Strong
	for _, k := range kinds {
		s := c.stand(k)
		worst = math.Max(worst, s.Static*s.Normal(p))
	}
	return worst, nil
}

// trainOf is an axis' motor, on the rig's supply, with what turns it into travel.
func trainOf(r *rig.Rig, a rig.Axis) (drive.Train, error) {
	t := drive.Train{Gearing: a.Motor.Gearing, Efficiency: a.Efficiency, Counts: a.Motor.Counts}
	if t.Gearing == 0 {
		t.Gearing = 1
	}
	if t.Efficiency == 0 {
		t.Efficiency = screwShare
	}
	var err error
	switch a.Drive {
	case "belt":
		t.Travel, err = drive.Belt(a.Pitch, a.Teeth)
	case "screw":
		t.Travel, err = drive.Lead(a.Lead)
	default:
		t.Travel, err = drive.Rack(a.Module, a.Teeth)
	}
	if err != nil {
		return t, err
	}
	t.Motor, err = motorOf(r, a.Motor)
	return t, err
}

// screwShare is the efficiency of a screw when the rig gives none: 0.25–0.31
// for trapezoidal threads (Shigley, Mechanical Engineering Design, ch. 8).
const screwShare = 0.25

func motorOf(r *rig.Rig, m rig.Motor) (drive.Motor, error) {
	supply := m.Voltage
	if r.Power.Voltage > 0 {
		supply = r.Power.Voltage
	}
	s := drive.Stepper{Hold: m.StallTorque, Voltage: supply, Current: m.Current, Inductance: m.Inductance, FullSteps: m.FullSteps}
	if m.Kind == "stepper" && s.Check() == nil {
		return s, nil
	}
	dc := drive.DC{Stall: m.StallTorque, Free: m.FreeSpeed}
	if m.Kind == "stepper" || m.Voltage == 0 || supply == 0 {
		return dc, dc.Check()
	}
	return dc.AtVoltage(m.Voltage, supply)
}
