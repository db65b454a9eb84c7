// SPDX-License-Identifier: Apache-2.0

package tacho

import (
	"context"
	"fmt"
	"math"
	"time"

	"boardhand/internal/gantry"
	"boardhand/internal/motion"
	"boardhand/internal/unit"
)

// Home finds the motors at their ports, lowers the lift to its end, presses both axes
// against their low ends twice and returns where the carriage is: at zero. Both axes
// have run backwards last.
func (g *Gantry) Home(ctx context.Context) (spot, error) {
	ctx, end, err := g.latch.Begin(ctx, true)
	if err != nil {
		return g.here(), err
	}
	defer end()
	if err := g.home(ctx); err != nil {
		_ = g.broken(ctx, err)
		g.latch.Distrust(err)
		return g.here(), err
	}
	at, err := g.read()
	if err != nil {
		g.latch.Distrust(err)
		return at, err
	}
	return at, g.latch.Homed()
}

func (g *Gantry) home(ctx context.Context) error {
	err := g.tell(ctx, func() error {
		for _, a := range []*axis{g.axes[0], g.axes[1], g.lift} {
			if err := a.prepare(); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	if err := g.press(ctx, -liftDuty, liftTime, g.lift); err != nil {
		return fmt.Errorf("lowering the lift: %w", err)
	}
	if err := g.zero(ctx, g.lift); err != nil {
		return err
	}
	g.top = 0
	return g.homeAxes(ctx)
}

// homeAxes presses both axes against their ends, backs off and presses again: what
// is an end stands where it stood.
func (g *Gantry) homeAxes(ctx context.Context) error {
	x, y := g.axes[0], g.axes[1]
	if err := g.press(ctx, -homeDuty, g.longest(), x, y); err != nil {
		return err
	}
	if err := g.zero(ctx, x, y); err != nil {
		return err
	}
	if err := g.backOff(ctx); err != nil {
		return err
	}
	if err := g.press(ctx, -homeDuty, g.longest(), x, y); err != nil {
		return err
	}
	for _, a := range g.axes {
		n, err := a.position()
		if err != nil {
			return err
		}
		if off := math.Abs(n / a.PerMetre); off > sameEnd && math.Abs(n) > 2 {
			return fmt.Errorf("axis %s found its end at two places, %.1f mm apart: look for what blocks it, then home", a.Name, off*1e3)
		}
	}
	return g.zero(ctx, x, y)
}

// longest is how long an axis may take to its end at the homing duty.
func (g *Gantry) longest() time.Duration {
	t := 0.0
	for _, a := range g.axes {
		v := float64(homeDuty) / 100 * float64(a.motors[0].most) / a.PerMetre
		t = math.Max(t, 3*a.Travel/v+5)
	}
	return time.Duration(t * float64(time.Second))
}

// backOff moves both axes off their ends as a stroke does: on this way they learn what
// friction takes.
func (g *Gantry) backOff(ctx context.Context) error {
	off := spot{X: backOff, Y: backOff}
	v := math.Min(g.axes[0].Bounds.Speed, g.axes[1].Bounds.Speed) / 2
	if _, err := g.along(ctx, spot{}, motion.Stroke{Path: []spot{off}, Speed: unit.Speed(v)}); err != nil {
		return err
	}
	return g.arrive(ctx, off)
}

// zero lets motors go, so that nothing is wound up, and calls the place zero.
func (g *Gantry) zero(ctx context.Context, of ...*axis) error {
	for _, a := range of {
		if err := g.tell(ctx, func() error { return a.stop("coast") }); err != nil {
			return err
		}
	}
	if err := gantry.Pause(ctx, g.clock, relax); err != nil {
		return err
	}
	return g.tell(ctx, func() error {
		for _, a := range of {
			for _, m := range a.motors {
				if err := m.zero(); err != nil {
					return err
				}
			}
			if err := a.stop("hold"); err != nil {
				return err
			}
		}
		return nil
	})
}

// press turns axes at a limited duty until each stands against something, and stops
// them there; an error when one still turns after the longest time.
func (g *Gantry) press(ctx context.Context, duty int, longest time.Duration, of ...*axis) error {
	for _, a := range of {
		if err := g.tell(ctx, func() error { return a.press(duty) }); err != nil {
			return err
		}
	}
	last, since := make([]float64, len(of)), make([]time.Duration, len(of))
	for i := range last {
		last[i] = math.Inf(1)
	}
	for now := time.Duration(0); now < longest; now += period {
		standing := 0
		for i, a := range of {
			n, err := a.position()
			if err != nil {
				return err
			}
			if math.Abs(n-last[i]) >= 1 {
				last[i], since[i] = n, now
			}
			if now-since[i] >= standsFor {
				standing++
			}
		}
		if standing == len(of) {
			return nil
		}
		if err := gantry.Pause(ctx, g.clock, period); err != nil {
			return err
		}
	}
	return fmt.Errorf("%s has not come to its end in %.0f s: look whether it turns freely and whether the end is there, then home", of[0].label(), longest.Seconds())
}

// label is the name of what an axis moves.
func (a *axis) label() string {
	if a.Name == "lift" {
		return "the lift"
	}
	return "axis " + a.Name
}
