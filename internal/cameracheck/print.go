// SPDX-License-Identifier: Apache-2.0

package cameracheck

import (
	"fmt"
	"strings"

	"boardhand/internal/sight/quality"
	"boardhand/internal/terminal"
)

// Print prints a result: one screen for people, or one object. The answer is "no"
// when the board was not found.
func (r *Result) Print(o *terminal.Out) error {
	if o.JSON {
		if err := o.Object(r); err != nil {
			return err
		}
	} else {
		r.text(o)
	}
	if r.Board == nil {
		return terminal.ErrNo
	}
	return nil
}

func (r *Result) text(o *terminal.Out) {
	line := func(name, text string) { o.Printf("%-9s %s\n", name, text) }
	line("camera", r.named())
	size := fmt.Sprintf("%d × %d pixels, %d pictures", r.Size[0], r.Size[1], r.Pictures)
	if r.Rate > 0 {
		size += fmt.Sprintf(", %.1f a second", r.Rate)
	}
	line("size", size)
	if r.Camera != nil && len(r.Camera.Held) > 0 {
		line("held", strings.Join(r.Camera.Held, ", "))
	}
	if q := r.Board; q != nil {
		line("board", fmt.Sprintf("found: %.0f to %.0f pixels a square, camera %.0f mm above it, %.1f degrees aslant", q.PixelsPerSquare[0], q.PixelsPerSquare[1], r.view.Camera().Z*1e3, q.TiltDeg))
		line("sharp", places(q.Edge, "%.1f")+"   pixels from dark to light at an edge (10 to 90 %)")
		line("light", places(q.Light, "%.0f")+"   of 255, on the lighter squares")
		line("squares", fmt.Sprintf("%.0f of 255 apart; %.1f %% too bright, %.1f %% too dark to tell anything; noise %.1f", q.Contrast, 100*q.Bright, 100*q.Dark, q.Noise))
	}
	if len(r.Advice) == 0 {
		line("change", "nothing: the board can be read like this")
	}
	for k, a := range r.Advice {
		line([]string{"change", ""}[min(k, 1)], a)
	}
}

// named is what the camera is called.
func (r *Result) named() string {
	if r.Camera != nil && r.Camera.Card != "" {
		return r.Camera.Card + ", " + r.Source
	}
	return r.Source
}

// places is one value a place.
func places(v map[string]float64, format string) string {
	var out []string
	for _, name := range quality.Places {
		text := "–"
		if x, ok := v[name]; ok {
			text = fmt.Sprintf(format, x)
		}
		out = append(out, name+" "+text)
	}
	return strings.Join(out, "  ")
}
