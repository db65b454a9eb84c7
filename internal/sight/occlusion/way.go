// SPDX-License-Identifier: Apache-2.0

package occlusion

import (
	"iter"
	"slices"

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

// isOwn says whether a place is where the mover itself has changed the board.
func (w Way) isOwn(at frame.Spot[frame.Board]) bool {
	for _, own := range w.Own {
		if at.Distance(own) < w.Round {
			return true
		}
	}
	return false
}

// Lying lists the squares on which something lies, as large as a small part of a square at
// least, that was not there in the last settled picture and reaches onto a way. What
// stands on the board leans in the picture, so that less of it may be seen on the way.
func (d *Detector) Lying(raw *pixels.Image, w Way) []chess.Square {
	odd, ok := d.changed(raw)
	if !ok || len(w.Path) == 0 {
		return nil
	}
	stands := d.standing(raw)
	for k, is := range stands {
		odd.On[k] = odd.On[k] || is
	}
	d.takeLight(raw, odd)
	grow(odd, stands)
	onWay := map[int]bool{}
	for k, is := range odd.On {
		i := odd.Middle(k)
		at := frame.Spot[frame.Board]{X: float64(d.Scene.Plane.X[i]), Y: float64(d.Scene.Plane.Y[i])}
		wasBare := d.Scene.Stack.Open(int32(i)) > 0.5 // what stood there is planned around, and ground that it leaves is no thing
		if odd.On[k] = is && wasBare && !w.isOwn(at); odd.On[k] {
			_, far := frame.Nearest(w.Path, at)
			onWay[k] = far < w.Reach
		}
	}
	var out []chess.Square
	for _, cells := range parts(odd) {
		out = scene.Merge(out, d.lying(odd, cells, onWay))
	}
	return out
}

// standing marks the cells over the board where there is new structure, and other light: a piece
// hides little of an even square and may have its colour, but it has an outline, and its own
// light and dark sides.
func (d *Detector) standing(raw *pixels.Image) []bool {
	c := Compare(raw, d.Frames[0])
	least := c.NoiseDepth()
	out := make([]bool, c.Cols*c.Rows)
	for k := range out {
		out[k] = c.Depth[k] > least && d.Scene.Zone(c.Middle(k)) != scene.Beside && c.around(k, c.fresh, isFresh) > standsLeast
	}
	return out
}

// grow adds to the cells of a mask those of another that hang together with them: of a piece light
// explains all but a few cells, of a shadow all (hysteresis, as in J. Canny, A computational approach
// to edge detection, 1986).
func grow(m Mask, by []bool) {
	for k, is := range m.On {
		if !is || !by[k] {
			continue
		}
		by[k] = false
		around := func(k int) iter.Seq[int] { return pixels.Around(k, 1, m.Cols, m.Rows) }
		take := func(k int) bool {
			is := by[k]
			by[k] = false
			return is
		}
		pixels.Flood([]int{k}, around, take, func(k int) bool {
			m.On[k] = true
			return true
		})
	}
}

// lying lists the squares of some connected cells; none where they are too few or beside
// the way.
func (d *Detector) lying(odd Mask, cells []int, onWay map[int]bool) []chess.Square {
	var p scene.Patch
	on := 0
	for _, k := range cells {
		d.Scene.Account(&p, odd.Middle(k), CellSide*CellSide)
		if onWay[k] {
			on++
		}
	}
	square := d.Scene.Setup.Square * d.Scene.Setup.Square * 1e6
	if p.Area < lyingLeast*square || on < lyingOn {
		return nil
	}
	p.CountSquares(lyingLeast * square / 2)
	return p.Squares
}

// parts are the connected cells of a mask.
func parts(m Mask) (out [][]int) {
	left := slices.Clone(m.On)
	for start, is := range m.On {
		if !is || !left[start] {
			continue
		}
		left[start] = false
		var part []int
		around := func(k int) iter.Seq[int] { return pixels.Around(k, 1, m.Cols, m.Rows) }
		take := func(k int) bool {
			is := left[k]
			left[k] = false
			return is
		}
		pixels.Flood([]int{start}, around, take, func(k int) bool {
			part = append(part, k)
			return true
		})
		out = append(out, part)
	}
	return out
}
