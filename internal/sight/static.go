// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"time"

	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
)

// staticObject is a picture in which something lay over the board, kept to see
// whether that ever moves: hands do, a cup that was put down does not.
type staticObject struct {
	raw   *pixels.Image
	since time.Time
	again int // pictures since that show the same
}

// isStatic says whether what lies over the board has long stopped moving. It
// remembers the picture for the next time.
func (r *Reader) isStatic(raw *pixels.Image, taken time.Time) bool {
	if r.static.raw == nil || !occlusion.IsStill(&r.tracker.Scene, occlusion.Compare(raw, r.static.raw)) {
		r.static = staticObject{raw: raw, since: taken}
		return false
	}
	r.static.again++
	if taken.IsZero() {
		return r.static.again >= staticUntimed
	}
	return r.static.again >= staticPictures && taken.Sub(r.static.since) >= staticTime
}
