// SPDX-License-Identifier: Apache-2.0

package occlusion

import (
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
)

// Way is where something is to move over the board.
type Way struct {
	Path  []frame.Spot[frame.Board] // still to go, m; empty: nothing that lies there is asked for
	Reach float64                   // that must be free to each side of it, m
	Own   []frame.Spot[frame.Board] // about here the mover itself has changed the board, m
	Round float64                   // so far about, m
}

// isOn says whether a place is on the way, and not the mover's own.
func (w Way) isOn(at frame.Spot[frame.Board]) bool {
	for _, own := range w.Own {
		if at.Distance(own) < w.Round {
			return false
		}
	}
	_, d := frame.Nearest(w.Path, at)
	return d < w.Reach
}

// Lying lists the squares of a way on which something lies that was not there in the
// last settled picture, as large as a small part of a square at least.
func (d *Detector) Lying(raw *pixels.Image, w Way) []chess.Square {
	odd, ok := d.changed(raw)
	if !ok || len(w.Path) == 0 {
		return nil
	}
	d.takeLight(raw, odd)
	for k, is := range odd.On {
		i := odd.Middle(k)
		odd.On[k] = is && w.isOn(frame.Spot[frame.Board]{X: float64(d.Scene.Plane.X[i]), Y: float64(d.Scene.Plane.Y[i])})
	}
	square := d.Scene.Setup.Square * d.Scene.Setup.Square * 1e6
	var out []chess.Square
	for _, p := range components(d.Scene, odd.Solid(), odd) {
		if p.Area > lyingLeast*square {
			p.CountSquares(0)
			out = scene.Merge(out, p.Squares)
		}
	}
	return out
}
