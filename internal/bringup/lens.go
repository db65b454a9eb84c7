// SPDX-License-Identifier: Apache-2.0

package bringup

import (
	"context"
	"fmt"

	"boardhand/internal/measured"
	"boardhand/internal/optics"
	"boardhand/internal/sight/locate"
)

// measureLens takes pictures of the checkerboard and finds the lens by them. A maker who has
// none goes on without: the board itself then tells the lens, badly.
func (s *Session) measureLens(ctx context.Context) error {
	has, err := s.Maker.Ask(ctx, Request{Asking: Choose, Text: "Have you the camera target at hand, printed by `boardhand sheets` and glued to something flat? (no: go on without it; where the camera hangs is then known to some centimetres only)"})
	if err != nil {
		return err
	}
	if !has {
		s.File.Lens = &measured.Lens{When: s.today()}
		s.Maker.Tell("  The lens is taken from the picture of the board. To measure it later: boardhand bringup --again lens")
		return nil
	}
	var seen [][]optics.Corner
	all := holds()
	for k, h := range all {
		corners, err := s.holdSheet(ctx, h, fmt.Sprintf("%d of %d. ", k+1, len(all)))
		if err != nil {
			return err
		}
		seen = append(seen, corners)
		s.Maker.Count(k+1, len(all), "pictures")
	}
	c, err := optics.Calibrate(seen, optics.Free(s.Rig.Camera.Image, 2, true, false))
	if err != nil {
		return err
	}
	if share := c.Sigma.Fx / c.Lens.Fx; share > worstFocal {
		return fmt.Errorf("the pictures tell the focal length to %.1f %% only: is the sheet flat, and was it tilted by 20 to 40 deg each time? Run bringup again", 100*share)
	}
	s.File.Lens = measured.LensOf(c, s.Rig.Camera.Image, s.today())
	s.Maker.Tell(fmt.Sprintf("  Focal length %.2f ± %.2f px, middle at %.2f ± %.2f and %.2f ± %.2f px, bending %.4f ± %.4f; corners are off by %.2f px.",
		c.Lens.Fx, c.Sigma.Fx, c.Lens.Cx, c.Sigma.Cx, c.Lens.Cy, c.Sigma.Cy, c.Lens.K1, c.Sigma.K1, c.RMS))
	return nil
}

// holdSheet has the sheet held one way until a picture shows all of it.
func (s *Session) holdSheet(ctx context.Context, h Hold, count string) ([]optics.Corner, error) {
	for range mostTries {
		if err := s.ask(ctx, Request{Asking: HoldSheet, Text: count + h.words() + " Is it so?", Hold: h}); err != nil {
			return nil, err
		}
		p, err := s.eye.look(ctx)
		if err != nil {
			return nil, err
		}
		corners, err := sheet.Corners(p.Image)
		if err == nil {
			return corners, nil
		}
		s.Maker.Tell("  " + err.Error())
	}
	return nil, locate.ErrNoChecker
}
