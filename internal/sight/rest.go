package sight

import (
	"slices"
	"time"
)

// rest is a picture in which something lay over the board, kept to see
// whether that ever moves: hands do, a cup that was put down does not.
type rest struct {
	raw   *plate
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
func (r *Reader) rests(raw *plate, taken time.Time) bool {
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

// alike says whether nothing on the board or its margin changed.
func (e *eye) alike(c *covering) bool {
	odd := cells{grid: c.grid, on: make([]bool, c.cols*c.rows)}
	for k, s := range c.seen() {
		odd.on[k] = e.zone(c.middle(k)) != beside && c.strange(k, s)
	}
	most := stillMost * e.setup.Square * e.setup.Square * 1e6
	return !slices.ContainsFunc(e.blobs(odd.solid(), odd), func(p spill) bool { return p.area > most })
}
