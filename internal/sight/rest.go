// SPDX-License-Identifier: Apache-2.0

package sight

import (
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
	if r.rest.raw == nil || !occlusion.IsStill(&r.eye.Scene, occlusion.Compare(raw, r.rest.raw)) {
		r.rest = rest{raw: raw, since: taken}
		return false
	}
	r.rest.again++
	if taken.IsZero() {
		return r.rest.again >= restUntimed
	}
	return r.rest.again >= restPictures && taken.Sub(r.rest.since) >= restTime
}
