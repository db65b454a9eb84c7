// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"context"
	"errors"

	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/table"
	"boardhand/internal/twin"
)

// cutGantry is the twin's, which tells the supply when the power went under way.
type cutGantry struct {
	table.Gantry
	cuts *cuts
}

func (g cutGantry) noted(err error) error {
	if errors.Is(err, twin.ErrPowerCut) && !g.cuts.isCut {
		g.cuts.cut()
	}
	return err
}

// Home finds the zeros.
func (g cutGantry) Home(ctx context.Context) (frame.Spot[frame.Machine], error) {
	at, err := g.Gantry.Home(ctx)
	return at, g.noted(err)
}

// Move runs a stroke.
func (g cutGantry) Move(ctx context.Context, s motion.Stroke) (frame.Spot[frame.Machine], error) {
	at, err := g.Gantry.Move(ctx, s)
	return at, g.noted(err)
}

// Lift raises or lowers the magnet.
func (g cutGantry) Lift(ctx context.Context, raised bool) error {
	return g.noted(g.Gantry.Lift(ctx, raised))
}
