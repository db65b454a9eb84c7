// SPDX-License-Identifier: Apache-2.0

// Package carriage does the steps of plans with the gantry; none begins while a
// person has stopped the machine.
package carriage

import (
	"cmp"
	"context"
	"errors"
	"fmt"

	"boardhand/internal/carry"
	"boardhand/internal/carry/plan"
	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/lookout"
	"boardhand/internal/table/model"
	"boardhand/internal/table/suspects"
)

// Gantry moves the carriage and the lift. Move and Lift return when the
// motion has ended. After Halt no motion begins but Home, which a Halt that
// comes while it runs stops as well.
type Gantry interface {
	// Home lowers the lift, finds the axes' zeros and returns where the carriage is.
	Home(ctx context.Context) (frame.Spot[frame.Machine], error)
	// Move runs a stroke and returns where the axes say the carriage ended. An
	// axis that lagged and yet arrived is a *motion.Lag.
	Move(ctx context.Context, s motion.Stroke) (frame.Spot[frame.Machine], error)
	// Lift raises the magnet to the board or lowers it by the full drop.
	Lift(ctx context.Context, raised bool) error
	// Halt stops all axes at once and leaves them stopped until Home; the lift
	// stays where it is. It may be called while another method runs.
	Halt() error
}

// Carriage does the steps of plans with the gantry. No motion begins while a
// person has stopped the machine.
type Carriage struct {
	gantry   Gantry
	gearing  *carry.Gearing
	desk     *desk.Desk
	model    *model.Model
	suspects *suspects.Suspects
	lookout  *lookout.Lookout
}

// Gears are a gantry and what turns board paths into those of its motors, with who
// watches the board while a piece is carried; nil: nobody does.
type Gears struct {
	Gantry  Gantry
	Gearing *carry.Gearing
	Lookout *lookout.Lookout
}

// NewCarriage drives a gantry.
func NewCarriage(m Gears, d *desk.Desk, of *model.Model, s *suspects.Suspects) *Carriage {
	return &Carriage{gantry: m.Gantry, gearing: m.Gearing, desk: d, model: of, suspects: s, lookout: m.Lookout}
}

// Drive has the gantry do a step that asks nobody.
func (c *Carriage) Drive(ctx context.Context, s plan.Step) error {
	c.suspects.Note(c.model, s)
	switch s.Do {
	case plan.Travel, plan.Carry:
		return c.stroke(ctx, s)
	case plan.Grip, plan.Release:
		return c.suspects.Drove(s, c.lift(ctx, s.Do == plan.Grip))
	}
	return fmt.Errorf("unknown step %q", s.Do)
}

// lift raises or lowers the magnet.
func (c *Carriage) lift(ctx context.Context, raised bool) error {
	err := c.desk.Motion(ctx, func(ctx context.Context) error { return c.gantry.Lift(ctx, raised) })
	if err != nil {
		return err
	}
	c.model.Lift = model.Lowered
	if raised {
		c.model.Lift = model.Raised
	}
	c.show()
	return nil
}

// stroke moves the carriage along a step's path. An axis that lagged and yet
// arrived is noted. Where the stroke is given up because something stays in its way, the
// piece is let go there: its error is a *lookout.InWay.
func (c *Carriage) stroke(ctx context.Context, s plan.Step) error {
	k := c.gearing.Stroke(s)
	err := c.desk.Motion(ctx, func(ctx context.Context) error {
		return c.lookout.While(ctx, s, func(ctx context.Context) error {
			at, err := c.gantry.Move(ctx, k)
			c.model.Carriage = at
			return err
		})
	})
	c.show()
	var way *lookout.InWay
	if errors.As(err, &way) {
		c.suspects.Forget() // nobody has let the piece arrive
		return cmp.Or(c.lift(ctx, false), err)
	}
	return c.suspects.Drove(s, err)
}

// Steps carries out the steps of a plan that asks nobody, without looking.
func (c *Carriage) Steps(ctx context.Context, plan plan.Plan) error {
	for i, s := range plan.Steps {
		c.desk.Observe(desk.Event{Step: &s})
		if err := c.Drive(ctx, s); err != nil {
			return fmt.Errorf("step %d of %d (%s): %w", i+1, len(plan.Steps), s.Do, err)
		}
	}
	return nil
}

// Home finds the axes' zeros with the magnet lowered.
func (c *Carriage) Home(ctx context.Context) error {
	err := c.desk.Motion(ctx, func(ctx context.Context) error {
		at, err := c.gantry.Home(ctx)
		if err == nil {
			c.model.Carriage, c.model.Lift = at, model.Lowered
		}
		return err
	})
	if err != nil {
		return fmt.Errorf("homing failed: %w", err)
	}
	c.gearing.Homed()
	c.show()
	if s, ok := c.gearing.Entry(); ok {
		return c.stroke(ctx, s)
	}
	return nil
}

func (c *Carriage) show() {
	b := c.gearing.Carriage(c.model.Carriage)
	c.desk.Observe(desk.Event{Carriage: &b, Lift: c.model.Lift})
}

// Retire leaves the machine at rest when the session ends: axes stopped, the
// magnet lowered, whatever ended it.
func (c *Carriage) Retire() {
	ctx, cancel := context.WithTimeout(context.Background(), retireTime)
	defer cancel()
	if c.model.Lift == model.Raised && !c.desk.IsHalted() {
		_ = c.gantry.Lift(ctx, false) // the session is ending: there is nobody left to tell
	}
	_ = c.gantry.Halt()
}

// Scene is where everything stands and the carriage is.
func (c *Carriage) Scene() plan.Scene {
	sc := c.model.Scene(c.suspects.IsUseless)
	sc.Carriage = c.gearing.Carriage(c.model.Carriage)
	return sc
}
