// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"

	"boardhand/internal/chess"
	"boardhand/internal/photo"
	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/register"
)

// Obstacle is what a picture taken in the middle of a motion shows over the board.
type Obstacle struct {
	IsHand  bool           // a hand or an arm reaches in
	Squares []chess.Square // that it is over, or that something lies on that was not there
}

// InWay compares a picture with the last one that was clear, in the cells of a way:
// does a hand reach over the board, or does something lie on the way that was not
// there? What is larger than a piece, reaches over the edge and is over the field counts as a hand
// here though its arm is not seen (skin over bare wood): to wait costs seconds. It takes a few
// milliseconds, weighs no move and learns nothing: the reader is as it was. A picture of a bumped camera tells nothing, and so does one before
// the board is known.
func (r *Reader) InWay(ctx context.Context, p photo.Picture, w occlusion.Way) (Obstacle, error) {
	if r.err != nil || r.unproved() {
		return Obstacle{}, r.err
	}
	img, err := r.check(p)
	if err == nil {
		err = ctx.Err()
	}
	if err != nil {
		return Obstacle{}, withName(p, err)
	}
	raw := pixels.Reduce(img, r.tracker.Reduce)
	if err := raw.Check(); err != nil {
		return Obstacle{}, withName(p, err)
	}
	if _, moved, good := r.tracker.Settled(raw); moved > register.Still && good >= register.Some {
		return Obstacle{}, nil
	}
	d := r.tracker.Detector()
	if s := r.last; s != nil && s.hand == nil && s.tracker == r.tracker {
		d.Frames = [3]*pixels.Image{s.raw, d.Frames[0], d.Frames[2]}
	}
	over, hand := d.Find(raw)
	if hand != nil {
		return Obstacle{IsHand: true, Squares: hand.Squares}, nil
	}
	if p, ok := d.Overhanging(over); ok {
		return Obstacle{IsHand: true, Squares: p.Squares}, nil
	}
	return Obstacle{Squares: d.Lying(raw, w)}, nil
}

// Way is where something is to move over the board.
type Way = occlusion.Way
