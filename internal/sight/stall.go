// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"

	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/tracking"
)

// stall counts the pictures that no rule has explained.
type stall struct {
	raw   *pixels.Image // the last of them
	count int           // in a row that look about alike
	all   int           // in a row without a hand, whatever they look like
	tries int           // how often the table was looked at afresh
}

// recover looks at the picture as a first one if no rule has explained it and
// those before for long: the light may have changed, or something was learnt
// that was not so. If each place proves the position, or one move, that is the
// reading, and what was learnt before is dropped.
func (r *Reader) recover(ctx context.Context, got Reading) (Reading, error) {
	if !r.countStall(got) {
		return got, nil
	}
	img := r.last.img
	r.stall.tries++
	v, err := r.decideAfresh(ctx, img, r.pos, nil)
	if err != nil {
		return got, ctx.Err() // no board to be found: nothing better to say
	}
	v.pursue(&r.pos, r.several)
	v.demandProof()
	if ctx.Err() != nil || !v.reading.isFinished() {
		return got, ctx.Err()
	}
	r.static, r.stall = staticObject{}, stall{}
	r.adopt(v, img)
	return v.reading, nil
}

// countStall counts a reading and says whether what was learnt is to be doubted.
func (r *Reader) countStall(got Reading) bool {
	if got.State != Illegal && got.State != Hand {
		r.stall = stall{}
		return false
	}
	raw := r.last.raw
	if k := &r.stall; k.raw == nil || len(k.raw.L) != len(raw.L) || occlusion.LargestChange(&r.tracker.Scene, r.compare(raw, k.raw)) > stallChange {
		k.count = 0
	}
	r.stall.raw = raw
	r.stall.count++
	if got.State != Hand { // hands at work change every picture
		r.stall.all++
	}
	least := stallLawless
	if got.State == Hand {
		least = stallHand
	}
	tried := min(r.stall.tries, 4)
	return !r.unproved() && (r.stall.count >= least<<tried || r.stall.all >= stallRestless*least<<tried)
}

// agreed judges the last picture as one of the reader's position, which a person
// has vouched for; nil where no board can be seen.
func (r *Reader) agreed(s *lastPicture) *decision {
	former := s.tracker
	if former.Reference == nil {
		former = r.former
	}
	for _, view := range []*tracking.Tracker{former, nil} {
		v, err := r.decideAfresh(context.Background(), s.img, r.pos, view)
		if err == nil && v.announced() >= 0 {
			return v
		}
	}
	return nil
}
