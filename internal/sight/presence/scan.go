// SPDX-License-Identifier: Apache-2.0

package presence

import (
	"cmp"
	"math"
	"slices"

	"boardhand/internal/frame"
	"boardhand/internal/sight/scene"
)

// Scan looks over a region for pieces that the scene does not have, in a
// bounded number of looks.
func (w *Inspection) Scan(in scene.Region, reach float64) []Trace {
	type spot struct {
		m   scene.Placement
		fit float64
	}
	var all []spot
	step := scanStep * w.Scene.Setup.Square
	for y := -reach; y <= reach; y += step {
		for x := -reach; x <= reach; x += step {
			at := frame.Spot[frame.Board]{X: x, Y: y}
			if !in(at) || w.takenBy(at) {
				continue
			}
			w.learnTiles(at)
			if m, fit := w.rough(at); fit > hopeless {
				m.Covers = nil
				all = append(all, spot{m, fit})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b spot) int { return cmp.Compare(b.fit, a.fit) })
	w.ascents = mostAscents
	var out []Trace
	var seen []frame.Spot[frame.Board]
	for _, s := range all {
		if slices.ContainsFunc(seen, w.within(s.m.At, 0.3)) {
			continue
		}
		if seen = append(seen, s.m.At); len(seen) > scanLooks {
			break
		}
		t := w.closer(s.m)
		if !w.takenBy(t.At) && !slices.ContainsFunc(out, func(o Trace) bool { return w.touching(o.At, t.At) }) {
			out = append(out, t)
		}
	}
	return out
}

// within says of places whether they are nearer to one than a share of a square.
func (w *Inspection) within(at frame.Spot[frame.Board], share float64) func(frame.Spot[frame.Board]) bool {
	return func(o frame.Spot[frame.Board]) bool { return o.Distance(at) < share*w.Scene.Setup.Square }
}

// touching says whether two places are nearer to each other than two of the smallest pieces
// can stand.
func (w *Inspection) touching(a, b frame.Spot[frame.Board]) bool {
	const close = 0.9 // of the smallest base: places are measured to a millimetre or so; at 0.8 parts of a piece count as another
	return a.Distance(b) < close*2*math.Sqrt(w.Scene.Setup.LeastBase()/math.Pi)
}

// takenBy says whether a piece of the scene stands at a place or touches it.
func (w *Inspection) takenBy(at frame.Spot[frame.Board]) bool {
	for k, m := range w.Scene.Pieces {
		if !w.Gone[k] && w.touching(m.At, at) {
			return true
		}
	}
	return false
}
