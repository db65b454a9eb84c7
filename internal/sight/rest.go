package sight

import (
	"slices"
	"time"

	"boardhand/internal/sight/numeric"
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
	if r.rest.raw == nil || !r.eye.alike(newCovering(raw, r.rest.raw)) {
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

// calm is how many standard deviations a cell's brightness may change between
// two pictures of what lies still; in the dark, structure comes and goes with
// the noise. Calmest holds where there is no noise: a twentieth, in logarithms.
// Doubling either lets a hand pass that moves over ground as bright as itself.
const calm, calmest = 5.0, 0.05

// alike says whether nothing on the board or its margin changed.
func (e *eye) alike(c *covering) bool {
	odd := cells{grid: c.grid, on: make([]bool, c.cols*c.rows)}
	least := c.noisy()
	for k, is := range c.unlike() {
		odd.on[k] = is && e.zone(c.middle(k)) != beside && (c.depth[k] > least || c.tinted(k))
	}
	most := stillMost * e.setup.Square * e.setup.Square * 1e6
	return !slices.ContainsFunc(e.blobs(odd.solid(), odd), func(p spill) bool { return p.area > most })
}

// noisy is the change of a cell's brightness logarithm that noise may make, by
// the median absolute deviation of all cells.
func (c *covering) noisy() float32 {
	v := make([]float64, len(c.depth))
	for k, d := range c.depth {
		v[k] = float64(d)
	}
	return float32(max(calmest, calm*1.4826*numeric.Median(v)))
}
