// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"slices"
	"time"

	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
)

// rest is a picture in which something lay over the board, kept to see
// whether that ever moves: hands do, a cup that was put down does not.
type rest struct {
	raw   *pixels.Image
	since time.Time
	again int // pictures since that show the same
}

// How long something must lie quite still before it is no hand: in time, and
// in pictures where these may be far apart or have no time.
const (
	restTime     = 5 * time.Second
	restPictures = 3
	restUntimed  = 6
)

// rests says whether what lies over the board has long stopped moving. It
// remembers the picture for the next time.
func (r *Reader) rests(raw *pixels.Image, taken time.Time) bool {
	if r.rest.raw == nil || !r.eye.alike(occlusion.Compare(raw, r.rest.raw)) {
		r.rest = rest{raw: raw, since: taken}
		return false
	}
	r.rest.again++
	if taken.IsZero() {
		return r.rest.again >= restUntimed
	}
	return r.rest.again >= restPictures && taken.Sub(r.rest.since) >= restTime
}

// stillMost is how much may look changed in one piece, as a share of a square,
// where nothing was: the coding of a noisy picture invents structure of that
// size, a hand that moves changes several times as much.
const stillMost = 0.25

// alike says whether nothing on the board or its margin changed.
func (e *eye) alike(c *occlusion.Comparison) bool {
	odd := occlusion.Mask{Grid: c.Grid, On: make([]bool, c.Cols*c.Rows)}
	least := c.NoiseDepth()
	for k, is := range c.Unlike() {
		odd.On[k] = is && e.zone(c.Middle(k)) != beside && (c.Depth[k] > least || c.Tinted(k))
	}
	most := stillMost * e.setup.Square * e.setup.Square * 1e6
	return !slices.ContainsFunc(e.blobs(odd.Solid(), odd), func(p spill) bool { return p.area > most })
}
