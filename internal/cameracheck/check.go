// SPDX-License-Identifier: Apache-2.0

// Package cameracheck looks through the camera of a rig and says what it is worth
// for reading the board, and what to change.
package cameracheck

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"io"
	"math"
	"time"

	"boardhand/internal/camera/video"
	"boardhand/internal/optics"
	"boardhand/internal/photo"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
	"boardhand/internal/sight/quality"
	"boardhand/internal/sight/scene"
)

// Eye is a camera.
type Eye interface {
	// Look returns the next picture. It waits for it, but not longer than ctx.
	Look(ctx context.Context) (photo.Picture, error)
}

// Result is what was seen.
type Result struct {
	Source   string          `json:"source"`
	Camera   *video.About    `json:"camera,omitempty"` // of one on this computer
	Size     [2]int          `json:"size"`
	Pictures int             `json:"pictures"`
	Rate     float64         `json:"rate"`   // pictures a second that came; 0: not known
	Frozen   bool            `json:"frozen"` // all pictures were the same to the byte
	Lost     []string        `json:"lost"`   // pictures that did not come, and why
	Board    *quality.Report `json:"board"`  // nil: it was not found
	NotFound string          `json:"not_found,omitempty"`
	Advice   []string        `json:"advice"` // what to change, the most important first

	setup scene.Setup
	last  image.Image
	shown []image.Image // the last two
	view  optics.View   // where the board was found
}

// Run takes a number of pictures and measures the last of them.
func Run(ctx context.Context, r *rig.Rig, eye Eye, n int) (*Result, error) {
	setup, err := sight.SetupFrom(r)
	if err != nil {
		return nil, err
	}
	out := &Result{Source: r.Camera.Source, Lost: []string{}, Advice: []string{}, setup: setup}
	if err := out.take(ctx, eye, n); err != nil {
		return nil, err
	}
	if a, ok := eye.(interface{ About() video.About }); ok {
		is := a.About()
		out.Camera = &is
	}
	if out.last == nil {
		return nil, fmt.Errorf("no picture came: %s", out.Lost[len(out.Lost)-1])
	}
	out.Size = [2]int{out.last.Bounds().Dx(), out.last.Bounds().Dy()}
	out.measure(r)
	return out, nil
}

// take looks at n pictures, fewer where a folder ends.
func (r *Result) take(ctx context.Context, eye Eye, n int) error {
	var first, last time.Time
	var before []byte
	same := 0
	defer func() { r.Frozen = r.Pictures > 2 && same == r.Pictures-1 }()
	for range n {
		p, err := eye.Look(ctx)
		switch {
		case errors.Is(err, io.EOF):
			return nil
		case ctx.Err() != nil:
			return ctx.Err()
		case err != nil:
			r.Lost = append(r.Lost, err.Error())
			continue
		}
		if r.Pictures++; r.Pictures == 1 {
			first = p.Taken
		}
		if len(p.JPEG) > 0 && bytes.Equal(p.JPEG, before) {
			same++
		}
		before, last, r.last = p.JPEG, p.Taken, p.Image
		if r.shown = append(r.shown, p.Image); len(r.shown) > 2 {
			r.shown = r.shown[1:]
		}
		if d := last.Sub(first).Seconds(); d > 0 && !first.IsZero() {
			r.Rate = float64(r.Pictures-1) / d
		}
	}
	return nil
}

// measure finds the board and says what the pictures are worth.
func (r *Result) measure(of *rig.Rig) {
	if r.Frozen {
		r.Advice = append(r.Advice, fmt.Sprintf("The same picture came %d times: the camera is frozen. Unplug it and plug it in again.", r.Pictures))
	}
	if len(r.Lost) > 0 {
		r.Advice = append(r.Advice, fmt.Sprintf("%d pictures did not come; the last time: %s.", len(r.Lost), r.Lost[len(r.Lost)-1]))
	}
	if r.Camera != nil {
		r.Advice = append(r.Advice, regulated(r.Camera.Refused)...)
	}
	var err error
	if r.Size != r.setup.Image {
		err = fmt.Errorf("the pictures are %d × %d: write image = [%d, %d] into [camera]", r.Size[0], r.Size[1], r.Size[0], r.Size[1])
	} else {
		r.view, err = sight.FindBoard(r.setup, r.last, nil)
	}
	if err != nil {
		r.NotFound = err.Error()
		r.Advice = append(r.Advice, "The board was not found: "+r.NotFound+".")
		return
	}
	q := quality.Measure(r.shown, quality.Board{View: r.view, Square: r.setup.Square})
	r.Board = &q
	r.Advice = append(r.Advice, r.aboutPlace(of)...)
	r.Advice = append(r.Advice, q.Advice(of.Board.Square.MM())...)
}

// regulated is what to do about what a camera goes on regulating by itself.
func regulated(refused []string) (out []string) {
	for _, s := range refused {
		out = append(out, "The camera: "+s+". Reading copes with slow changes; for quick ones use even, steady light.")
	}
	return out
}

// aboutPlace compares where the camera hangs with what the rig file says.
func (r *Result) aboutPlace(of *rig.Rig) (out []string) {
	if c, isChanged := of.LensChanged(r.view); isChanged {
		out = append(out, c.Words(of.Path))
	}
	is := r.view.Camera()
	if d := is.Z - float64(of.Camera.Height); math.Abs(d) > heightDiffers*float64(of.Camera.Height) {
		out = append(out, fmt.Sprintf("The camera hangs %.0f mm over the board by what it sees, %.0f mm by the rig file: measure it and set camera.height.", is.Z*1e3, of.Camera.Height.MM()))
	}
	return out
}

// Picture is the last picture, with the squares drawn in where the board was found.
func (r *Result) Picture() image.Image {
	if r.Board == nil {
		return r.last
	}
	return sight.Lattice(r.last, r.view, r.setup)
}
