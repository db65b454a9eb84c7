// SPDX-License-Identifier: Apache-2.0

package tacho

import (
	"context"
	"fmt"
	"math"
)

// Lift raises the magnet to the board or lowers it by the full drop: from end to end,
// at limited duty. It is there when its motor has counted as many as it ever did.
func (g *Gantry) Lift(ctx context.Context, raised bool) error {
	ctx, end, err := g.latch.Begin(ctx, false)
	if err != nil {
		return err
	}
	defer end()
	before := g.folder.wrong.Load()
	if err := g.hoist(ctx, raised); err != nil {
		return g.spoilt(ctx, before, g.broken(ctx, err))
	}
	return nil
}

func (g *Gantry) hoist(ctx context.Context, raised bool) error {
	duty := -liftDuty
	if raised {
		duty = liftDuty
	}
	if err := g.press(ctx, duty, liftTime, g.lift); err != nil {
		return err
	}
	n, err := g.lift.position()
	if err != nil {
		return err
	}
	if err := g.tell(ctx, func() error { return g.lift.stop("hold") }); err != nil {
		return err
	}
	turn, err := g.lift.motors[0].number("count_per_rot")
	if err != nil {
		return err
	}
	low := math.Max(g.top, float64(turn)*leastLift) * liftMiss
	switch {
	case raised && (n < float64(turn)*leastLift || n < g.top*(1-liftMiss)):
		return fmt.Errorf("the lift stopped on its way up, at %.0f of %.0f counts: look for what holds it, then home", n, math.Max(g.top, float64(turn)*leastLift))
	case !raised && math.Abs(n) > low:
		return fmt.Errorf("the lift stopped on its way down, %.0f counts above its end: look for what holds it, then home", n)
	}
	g.top = math.Max(g.top, n)
	return nil
}
