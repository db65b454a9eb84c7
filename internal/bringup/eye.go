// SPDX-License-Identifier: Apache-2.0

package bringup

import (
	"context"
	"fmt"
	"image"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/measured"
	"boardhand/internal/optics"
	"boardhand/internal/photo"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
	"boardhand/internal/sight/gauge"
	"boardhand/internal/sight/locate"
	"boardhand/internal/sight/pixels"
)

// eye measures where the piece stands.
type eye struct {
	camera Camera
	rig    *rig.Rig
	view   optics.View
	sigma  frame.Point[frame.Board] // of the camera's place, m; 0 where the lens was not measured
	flat   optics.View              // by the board alone
	bare   *image.Gray
	gauge  *gauge.Gauge
}

// look takes a picture; some may not come.
func (e *eye) look(ctx context.Context) (photo.Picture, error) {
	for try := 1; ; try++ {
		p, err := e.camera.Look(ctx)
		if err == nil || ctx.Err() != nil || try == mostTries {
			return p, err
		}
	}
}

// learn finds the bare board; the lens was measured, or not.
func (e *eye) learn(ctx context.Context, l *measured.Lens) error {
	bare, err := e.mean(ctx)
	if err != nil {
		return err
	}
	setup, err := sight.SetupFrom(e.rig)
	if err != nil {
		return err
	}
	if e.view, err = sight.FindBoard(setup, bare, nil); err != nil {
		return fmt.Errorf("the board was not found: %w; `boardhand camera` shows what the camera sees", err)
	}
	e.flat = e.view
	if l.IsKnown() {
		if err := e.measure(bare, l); err != nil {
			return err
		}
	}
	e.bare = bare
	e.gauge = gauge.New(e.flat, e.bare, e.view.Camera(), float64(e.rig.Pieces.Of(chess.Pawn).Base))
	return nil
}

// see measures the piece that stands near a place.
func (e *eye) see(ctx context.Context, near frame.Spot[frame.Board], reach float64) (gauge.Sighting, error) {
	p, err := e.look(ctx)
	if err != nil {
		return gauge.Sighting{}, err
	}
	return e.gauge.Measure(pixels.LumaOf(p.Image), near, reach)
}

// measure finds where the camera hangs, its lens having been measured.
func (e *eye) measure(bare *image.Gray, l *measured.Lens) error {
	if size := e.rig.Camera.Image; l.Image != size {
		return fmt.Errorf("the lens was measured in pictures of %d × %d px, camera.image says %d × %d: measure it again with `boardhand bringup --again lens`", l.Image[0], l.Image[1], size[0], size[1])
	}
	setup, err := sight.SetupFrom(e.rig)
	if err != nil {
		return err
	}
	lens := l.Prior()
	lens.Relief = optics.Warped(4*setup.Square, float64(e.rig.Board.Warp))
	b, err := locate.Measure(bare, locate.Setup{Square: setup.Square, Border: setup.Border, Image: setup.Image, HFOV: setup.HFOV, Height: setup.Height, WhiteSide: setup.White},
		e.view, lens)
	if err != nil {
		return fmt.Errorf("the board was not found with the lens as measured: %w; if zoom or focus were changed, run `boardhand bringup --again lens`", err)
	}
	e.view, e.sigma = b.View, b.PlaceSigma
	return nil
}

// mean is the mean brightness of some pictures.
func (e *eye) mean(ctx context.Context) (*image.Gray, error) {
	var sum []int
	var out *image.Gray
	for range meanOf {
		p, err := e.look(ctx)
		if err != nil {
			return nil, err
		}
		g := pixels.LumaOf(p.Image)
		if out == nil {
			out = image.NewGray(image.Rect(0, 0, g.Rect.Dx(), g.Rect.Dy()))
			sum = make([]int, len(out.Pix))
		}
		if g.Rect.Size() != out.Rect.Size() {
			return nil, fmt.Errorf("the pictures differ in size: %v and %v", out.Rect.Size(), g.Rect.Size())
		}
		for y := range g.Rect.Dy() {
			for x, v := range g.Pix[y*g.Stride:][:g.Rect.Dx()] {
				sum[y*out.Stride+x] += int(v)
			}
		}
	}
	for i, v := range sum {
		out.Pix[i] = uint8((v + meanOf/2) / meanOf)
	}
	return out, nil
}
