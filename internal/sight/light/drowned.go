// SPDX-License-Identifier: Apache-2.0

package light

import (
	"iter"

	"boardhand/internal/sight/pixels"
)

// drown marks the cells that are brighter than the light found explains, where together
// with those under reflections they are much larger than a piece: slats and the edges of
// panes are finer than the light is followed. least is that size, cells.
func (c *Change) drown(least int) {
	n := len(c.level)
	c.drowned = make([]bool, n)
	bright, seen := make([]bool, n), make([]bool, n)
	for k := range bright {
		bright[k] = c.isBrighter(k)
	}
	for start := range bright {
		if seen[start] || !bright[start] {
			continue
		}
		region := c.region(start, bright, seen)
		if len(region) < least {
			continue
		}
		for _, k := range region {
			if bright[k] {
				for j := range c.beside(k) {
					c.drowned[j] = true
				}
			}
		}
	}
}

// beside lists a cell and those that touch it.
func (c *Change) beside(k int) iter.Seq[int] { return pixels.Around(k, 1, c.cols, c.rows) }

// region collects the cells, bright or under a reflection, that are connected with one, and
// marks them as seen.
func (c *Change) region(start int, bright, seen []bool) (out []int) {
	seen[start] = true
	take := func(k int) bool {
		is := !seen[k] && (bright[k] || c.plus[0][k] != 0)
		seen[k] = seen[k] || is
		return is
	}
	pixels.Flood([]int{start}, c.beside, take, func(k int) bool {
		out = append(out, k)
		return true
	})
	return out
}

// isBrighter says whether light lies on a cell that the light found there does not explain.
func (c *Change) isBrighter(k int) bool {
	grey, least, most := float32(0), c.added[0][k], c.added[0][k]
	for j := range c.added {
		v := c.added[j][k]
		grey, least, most = grey+v/3, min(least, v), max(most, v)
	}
	if grey < leastVeil || least < greyest*most {
		return false
	}
	if veil := (c.plus[0][k] + c.plus[1][k] + c.plus[2][k]) / 3; veil > 0 {
		return grey-veil > max(leastVeil, veilInlier*veil)
	}
	return c.change[0][k]-c.times[0][k] > 2*inlier
}

// Keep drowns only cells of which something holds, by their middle pixels.
func (c *Change) Keep(holds func(i int) bool) {
	for k, is := range c.drowned {
		x, y := k%c.cols*CellSide+CellSide/2, k/c.cols*CellSide+CellSide/2
		c.drowned[k] = is && holds(y*c.width+x)
	}
}
