// SPDX-License-Identifier: Apache-2.0

package bringup

import (
	"context"
	"fmt"
	"image"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
	"boardhand/internal/sight/gauge"
	"boardhand/internal/sight/pixels"
)

// eye measures where the piece stands.
type eye struct {
	camera Camera
	rig    *rig.Rig
	view   optics.View
	bare   *image.Gray
	gauge  *gauge.Gauge
}

// look takes a picture; some may not come.
func (e *eye) look(ctx context.Context) (sight.Picture, error) {
	for try := 1; ; try++ {
		p, err := e.camera.Look(ctx)
		if err == nil || ctx.Err() != nil || try == mostTries {
			return p, err
		}
	}
}

// learn finds the bare board.
func (e *eye) learn(ctx context.Context) error {
	p, err := e.look(ctx)
	if err != nil {
		return err
	}
	setup, err := sight.SetupFrom(e.rig)
	if err != nil {
		return err
	}
	if e.view, err = sight.FindBoard(setup, p.Image, nil); err != nil {
		return fmt.Errorf("the board was not found: %w; `boardhand camera` shows what the camera sees", err)
	}
	e.bare = pixels.LumaOf(p.Image)
	e.gauge = gauge.New(e.view, e.bare, float64(e.rig.Pieces.Of(chess.Pawn).Base))
	return nil
}

// foot is the camera's foot point.
func (e *eye) foot() frame.Spot[frame.Board] { return e.view.Camera().Spot() }

// see measures the piece that stands near a place.
func (e *eye) see(ctx context.Context, near frame.Spot[frame.Board], reach float64) (gauge.Sighting, error) {
	p, err := e.look(ctx)
	if err != nil {
		return gauge.Sighting{}, err
	}
	return e.gauge.Measure(pixels.LumaOf(p.Image), near, reach)
}
