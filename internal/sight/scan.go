// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"cmp"
	"math"
	"slices"

	"boardhand/internal/frame"
)

// Bounds of a scan for pieces of unknown kind.
const (
	scanStep  = 0.2 // of a square: the silhouettes of the smallest pieces overlap by more than half
	scanLooks = 24  // places looked at closely
)

// scan looks over a region for pieces that the scene does not have, in a
// bounded number of looks.
func (w *witness) scan(in region, reach float64) []trace {
	type spot struct {
		m   standing
		fit float64
	}
	var all []spot
	step := scanStep * w.scene.setup.Square
	for y := -reach; y <= reach; y += step {
		for x := -reach; x <= reach; x += step {
			at := frame.Spot[frame.Board]{X: x, Y: y}
			if !in(at) || w.takenBy(at) {
				continue
			}
			w.pave(at)
			if m, fit := w.rough(at); fit > hopeless {
				m.covers = nil
				all = append(all, spot{m, fit})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b spot) int { return cmp.Compare(b.fit, a.fit) })
	w.feels = feelMost
	var out []trace
	var seen []frame.Spot[frame.Board]
	for _, s := range all {
		if slices.ContainsFunc(seen, w.within(s.m.at, 0.3)) {
			continue
		}
		if seen = append(seen, s.m.at); len(seen) > scanLooks {
			break
		}
		t := w.closer(s.m)
		if !w.takenBy(t.at) && !slices.ContainsFunc(out, func(o trace) bool { return w.touching(o.at, t.at) }) {
			out = append(out, t)
		}
	}
	return out
}

// within says of places whether they are nearer to one than a share of a square.
func (w *witness) within(at frame.Spot[frame.Board], share float64) func(frame.Spot[frame.Board]) bool {
	return func(o frame.Spot[frame.Board]) bool { return o.Distance(at) < share*w.scene.setup.Square }
}

// touching says whether two places are nearer to each other than two pieces
// can stand.
func (w *witness) touching(a, b frame.Spot[frame.Board]) bool {
	const close = 0.9 // of the smallest base: places are measured to a millimetre or so
	return a.Distance(b) < close*2*math.Sqrt(w.scene.setup.leastFoot()/math.Pi)
}

// takenBy says whether a piece of the scene stands at a place or touches it.
func (w *witness) takenBy(at frame.Spot[frame.Board]) bool {
	for k, m := range w.scene.pieces {
		if !w.gone[k] && w.touching(m.at, at) {
			return true
		}
	}
	return false
}
