// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"

	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
)

// stuck counts the pictures that no rule has explained.
type stuck struct {
	raw   *pixels.Image // the last of them
	count int           // in a row that look about alike
	tries int           // how often the table was looked at afresh
}

// When the reader doubts what it has learnt: after so many pictures without an
// explanation, then twice as many and so on; a hand may rest longer than a
// mistake lasts. And how much of the board may stir meanwhile, in squares.
const (
	stuckLawless = 4
	stuckHand    = 8
	stuckStirs   = 1.0
)

// recover looks at the picture as a first one if no rule has explained it and
// those before for long: the light may have changed, or something was learnt
// that was not so. If each place proves the position, or one move, that is the
// reading, and what was learnt before is dropped.
func (r *Reader) recover(ctx context.Context, got Reading) (Reading, error) {
	if !r.doubtful(got) {
		return got, nil
	}
	img := r.shown.img
	r.stuck.tries++
	v, err := r.fresh(ctx, img, r.pos, nil)
	if err != nil {
		return got, ctx.Err() // no board to be found: nothing better to say
	}
	v.demand()
	if s := v.reading.State; ctx.Err() != nil || s != Same && s != Moved {
		return got, ctx.Err()
	}
	r.rest, r.stuck = rest{}, stuck{}
	r.adopt(v, img)
	return v.reading, nil
}

// doubtful counts a reading and says whether what was learnt is to be doubted.
func (r *Reader) doubtful(got Reading) bool {
	if got.State != Illegal && got.State != Hand {
		r.stuck = stuck{}
		return false
	}
	raw := r.shown.raw
	if k := &r.stuck; k.raw == nil || len(k.raw.L) != len(raw.L) || occlusion.LargestChange(&r.eye.Scene, occlusion.Compare(raw, k.raw)) > stuckStirs {
		k.count = 0
	}
	r.stuck.raw = raw
	r.stuck.count++
	least := stuckLawless
	if got.State == Hand {
		least = stuckHand
	}
	return !r.unproved() && r.stuck.count >= least<<min(r.stuck.tries, 4)
}

// agreed judges the last picture as one of the reader's position, which a person
// has vouched for; nil where no board can be seen.
func (r *Reader) agreed(s *observation) *verdict {
	former := s.eye
	if former.Reference == nil {
		former = r.former
	}
	for _, view := range []*eye{former, nil} {
		v, err := r.fresh(context.Background(), s.img, r.pos, view)
		if err == nil && v.said() >= 0 {
			return v
		}
	}
	return nil
}
