// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"fmt"
	"time"

	"boardhand/internal/carry"
	"boardhand/internal/frame"
)

// Gantry moves the carriage and the lift. Move and Lift return when the
// motion has ended. After Halt no motion begins but Home, which a Halt that
// comes while it runs stops as well.
type Gantry interface {
	// Home lowers the lift, finds the axes' zeros and returns where the carriage is.
	Home(ctx context.Context) (frame.Spot[frame.Machine], error)
	// Move runs a stroke and returns where the axes say the carriage ended. An
	// axis that lagged and yet arrived is a *carry.Lag.
	Move(ctx context.Context, s carry.Stroke) (frame.Spot[frame.Machine], error)
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
	desk     *Desk
	model    *Model
	suspects *Suspects
}

// NewCarriage drives a gantry; g turns board paths into those of its motors.
func NewCarriage(m Gantry, g *carry.Gearing, d *Desk, of *Model, s *Suspects) *Carriage {
	return &Carriage{gantry: m, gearing: g, desk: d, model: of, suspects: s}
}

// drive has the gantry do a step that asks nobody.
func (c *Carriage) drive(ctx context.Context, s carry.Step) error {
	c.suspects.note(c.model, s)
	switch s.Do {
	case carry.Travel, carry.Carry:
		return c.stroke(ctx, s)
	case carry.Grip, carry.Release:
		err := c.desk.motion(ctx, func(ctx context.Context) error { return c.gantry.Lift(ctx, s.Do == carry.Grip) })
		if err != nil {
			return err
		}
		c.model.Lift = Lowered
		if s.Do == carry.Grip {
			c.model.Lift = Raised
		}
		c.show()
		return nil
	}
	return fmt.Errorf("unknown step %q", s.Do)
}

// stroke moves the carriage along a step's path. An axis that lagged and yet
// arrived is noted.
func (c *Carriage) stroke(ctx context.Context, s carry.Step) error {
	k := c.gearing.Stroke(s)
	err := c.desk.motion(ctx, func(ctx context.Context) error {
		at, err := c.gantry.Move(ctx, k)
		c.model.Carriage = at
		return err
	})
	c.show()
	return c.suspects.drove(s, err)
}

// steps carries out the steps of a plan that asks nobody, without looking.
func (c *Carriage) steps(ctx context.Context, plan carry.Plan) error {
	for i, s := range plan.Steps {
		c.desk.Observe(Event{Step: &s})
		if err := c.drive(ctx, s); err != nil {
			return fmt.Errorf("step %d of %d (%s): %w", i+1, len(plan.Steps), s.Do, err)
		}
	}
	return nil
}

// home finds the axes' zeros with the magnet lowered.
func (c *Carriage) home(ctx context.Context) error {
	err := c.desk.motion(ctx, func(ctx context.Context) error {
		at, err := c.gantry.Home(ctx)
		if err == nil {
			c.model.Carriage, c.model.Lift = at, Lowered
		}
		return err
	})
	if err != nil {
		return fmt.Errorf("homing failed: %w", err)
	}
	c.gearing.Homed()
	c.show()
	return nil
}

func (c *Carriage) show() {
	b := c.gearing.Carriage(c.model.Carriage)
	c.desk.Observe(Event{Carriage: &b, Lift: c.model.Lift})
}

// retire leaves the machine at rest when the session ends: axes stopped, the
// magnet lowered, whatever ended it.
func (c *Carriage) retire() {
	ctx, cancel := context.WithTimeout(context.Background(), retireTime)
	defer cancel()
	if c.model.Lift == Raised && !c.desk.isHalted() {
		_ = c.gantry.Lift(ctx, false) // the session is ending: there is nobody left to tell
	}
	_ = c.gantry.Halt()
}

// retireTime bounds how long a session that ends waits for the lift.
const retireTime = 5 * time.Second

// scene is where everything stands and the carriage is.
func (c *Carriage) scene() carry.Scene {
	sc := c.model.Scene(c.suspects.isUseless)
	sc.Carriage = c.gearing.Carriage(c.model.Carriage)
	return sc
}
