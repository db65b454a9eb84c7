// SPDX-License-Identifier: Apache-2.0

package limits

import (
	"fmt"
	"math"

	"boardhand/internal/axes"
	"boardhand/internal/carry/plan"
	"boardhand/internal/drive"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// driveOf is what the rig file lets both axes do, one by one and together.
func driveOf(r *rig.Rig) plan.Drive {
	var d plan.Drive
	for i, a := range [2]rig.Axis{r.Axis.X, r.Axis.Y} {
		d.Axes[i] = plan.Bounds{Speed: float64(a.Speed), Accel: float64(a.Acceleration), Jerk: float64(a.Jerk)}
	}
	x, y := d.Axes[0], d.Axes[1]
	d.Most = plan.Bounds{Speed: math.Hypot(x.Speed, y.Speed), Accel: math.Hypot(x.Accel, y.Accel), Jerk: math.Hypot(x.Jerk, y.Jerk)}
	return d
}

// pull lowers speeds and accelerations to what the motors have force for: the
// motor line against the guides' friction, the magnet rubbing on the underside,
// the piece in tow and the moved mass. Newtons along each axis. Range: as
// drive.Train. Accuracy: that of the motor line, a tenth. Source: work a turn
// (drive.Train), Newton, Coulomb friction.
func (c maker) pull(l *plan.Limits) error {
	for i, a := range []rig.Axis{c.Rig.Axis.X, c.Rig.Axis.Y} {
		name := [...]string{"x", "y"}[i]
		if a.Motor.StallTorque == 0 {
			continue // nothing is known of the motor
		}
		t, err := axes.Train(c.Rig, a)
		if err != nil {
			return fmt.Errorf("axis.%s: %w", name, err)
		}
		tow, err := c.Towed(0)
		if err != nil {
			return err
		}
		free := drive.Load{Mass: a.Moved, Friction: a.Friction}
		laden := free
		laden.Friction += unit.Force(c.Rubbing())
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
