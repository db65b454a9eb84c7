// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"

	"boardhand/internal/photo"
	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
)

// Glance takes a picture for Present and Strangers without weighing any move:
// in the middle of what a machine does no position is on the board that a
// reading could speak of. It answers Hand for a picture with something over the
// board, and Same for one that can be used; nothing is learnt from it. Before a
// picture has proved the position it is Read, and Same says only that there is
// a board. After an error the reader is as it was before.
func (r *Reader) Glance(ctx context.Context, p photo.Picture) (Reading, error) {
	if r.err == nil && r.unproved() {
		got, err := r.Read(ctx, p)
		if got.State != Hand {
			got = Reading{State: Same, Belief: trust}
		}
		return got, err
	}
	if r.err != nil {
		return Reading{}, r.err
	}
	img, err := r.check(p)
	if err == nil {
		err = ctx.Err()
	}
	if err != nil {
		return Reading{}, withName(p, err)
	}
	keep := r.save()
	raw := pixels.Reduce(img, r.tracker.Reduce)
	err = raw.Check()
	var hand *occlusion.Occluder
	if err == nil {
		_, hand, err = r.follow(img, raw)
	}
	if err != nil {
		r.restore(keep)
		return Reading{}, withName(p, err)
	}
	r.pending, r.last = nil, &lastPicture{tracker: r.tracker, img: img, raw: raw}
	if hand != nil && !r.isStatic(raw, p.Taken) {
		return r.hand(hand), nil
	}
	return Reading{State: Same, Belief: trust}, nil
}
