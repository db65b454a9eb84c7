// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"time"

	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
)

// compared is a comparison that may be asked for again: of a hand with the last one.
type compared struct {
	now, then *pixels.Image
	*occlusion.Comparison
}

// compare compares two pictures, once.
func (r *Reader) compare(now, then *pixels.Image) *occlusion.Comparison {
	if k := &r.compared; k.now != now || k.then != then {
		*k = compared{now, then, occlusion.Compare(now, then)}
	}
	return r.compared.Comparison
}

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
	if r.static.raw == nil || !occlusion.IsStill(&r.tracker.Scene, r.compare(raw, r.static.raw)) {
		r.static = staticObject{raw: raw, since: taken}
		return false
	}
	r.static.again++
	if taken.IsZero() {
		return r.static.again >= 2*staticPictures
	}
	return r.static.again >= staticPictures && taken.Sub(r.static.since) >= staticTime
}
