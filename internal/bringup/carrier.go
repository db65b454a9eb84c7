// SPDX-License-Identifier: Apache-2.0

package bringup

import (
	"context"
	"errors"
	"fmt"
	"math"

	"boardhand/internal/asbuilt"
	"boardhand/internal/axes"
	"boardhand/internal/carry/plan"
	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// carrier moves the carriage by its own axes, one at a time while it drags a piece, and
// knows which way each moved last.
type carrier struct {
	gantry Gantry
	limits plan.Limits
	travel [2]float64
	belief asbuilt.Machine // how the machine is thought to be built
	short  [2]float64      // m of each axis: less it is left away from a place rather than moved

	at     frame.Spot[frame.Machine] // as counted
	side   [2]float64
	drag   frame.Spot[frame.Machine] // direction of the last stretch with the magnet raised
	raised bool
	homed  bool
	behind []string // axes that fell behind on the way, in words
}

func newCarrier(g Gantry, r *rig.Rig, l plan.Limits, belief asbuilt.Machine) *carrier {
	c := &carrier{gantry: g, limits: l, belief: belief, travel: [2]float64{float64(r.Axis.X.Travel), float64(r.Axis.Y.Travel)}}
	for k, a := range []rig.Axis{r.Axis.X, r.Axis.Y} {
		c.short[k] = shortMove
		if t, err := axes.Train(r, a); err == nil {
			if count, err := t.Resolution(); err == nil {
				c.short[k] = max(shortMove, shortCounts*float64(count))
			}
		}
	}
	return c
}

// home finds the zeros.
func (c *carrier) home(ctx context.Context) error {
	at, err := c.gantry.Home(ctx)
	if err != nil {
		return fmt.Errorf("homing failed: %w", err)
	}
	c.at, c.side, c.raised, c.homed = at, [2]float64{-1, -1}, false, true
	return nil
}

// lift raises or lowers the magnet.
func (c *carrier) lift(ctx context.Context, raised bool) error {
	err := c.gantry.Lift(ctx, raised)
	if err == nil {
		c.raised = raised
	}
	return err
}

// target is where the axes must count to be for the magnet to come to a place from a
// side, kept within the travel.
func (c *carrier) target(at frame.Spot[frame.Board], side [2]float64) frame.Spot[frame.Machine] {
	m := c.belief.MachineFromBoard().Apply(at)
	m.X += side[0] * c.belief.Backlash[0] / 2
	m.Y += side[1] * c.belief.Backlash[1] / 2
	return frame.Spot[frame.Machine]{X: max(0, min(c.travel[0], m.X)), Y: max(0, min(c.travel[1], m.Y))}
}

// to moves straight to a place of the axes.
func (c *carrier) to(ctx context.Context, to frame.Spot[frame.Machine]) error {
	d := to.Sub(c.at)
	if d.Norm() < leastMove {
		return nil
	}
	drive := c.limits.Travel
	if c.raised {
		drive = c.limits.Carry
		c.drag = d.Unit()
	}
	return c.stroke(ctx, to, drive.Most)
}

// stroke moves within bounds.
func (c *carrier) stroke(ctx context.Context, to frame.Spot[frame.Machine], b plan.Bounds) error {
	d := to.Sub(c.at)
	at, err := c.gantry.Move(ctx, motion.Stroke{Path: []frame.Spot[frame.Machine]{c.at, to},
		Speed: unit.Speed(b.Speed), Accel: unit.Acceleration(b.Accel), Jerk: unit.Jerk(b.Jerk)})
	var lag *motion.Lag
	if errors.As(err, &lag) {
		c.behind = append(c.behind, lag.Error())
		err = nil
	}
	var stall *motion.Stall
	if err != nil && !errors.As(err, &stall) {
		return err
	}
	c.at = at
	for k, v := range [2]float64{d.X, d.Y} {
		if math.Abs(v) > leastMove {
			c.side[k] = math.Copysign(1, v)
		}
	}
	return err
}

// magnet is where the magnet is thought to be.
func (c *carrier) magnet() frame.Spot[frame.Board] { return c.belief.Magnet(c.at, c.side) }

// sighting is what a picture tells of the machine now.
func (c *carrier) sighting(seen frame.Spot[frame.Board], sigma float64) asbuilt.Sighting {
	a, b := c.belief.Magnet(frame.Spot[frame.Machine]{}, [2]float64{}), c.belief.Magnet(c.drag, [2]float64{})
	return asbuilt.Sighting{Motors: c.at, Side: c.side, Drag: b.Sub(a).Unit(), Seen: seen, Sigma: sigma}
}
