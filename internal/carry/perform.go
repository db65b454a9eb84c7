// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"context"

	"boardhand/internal/game"
)

// perform adds everything that acts need; what is done already is passed over.
func (d *builder) perform(ctx context.Context, acts []game.Act) error {
	for len(acts) > 0 {
		n, err := d.performNext(ctx, acts)
		if err != nil {
			return err
		}
		acts = acts[n:]
	}
	return nil
}

// performNext does the first act, or the first two where they belong together,
// and returns how many.
func (d *builder) performNext(ctx context.Context, acts []game.Act) (int, error) {
	a := acts[0]
	if len(acts) > 1 {
		switch b := acts[1]; {
		case game.AreExchange(a, b):
			if !d.isDue(a) {
				return 2, nil
			}
			return 2, d.exchange(ctx, b)
		case game.AreApart(a, b) && d.isDue(a) && d.isDue(b):
			return 2, d.bothWays(ctx, [2]game.Act{a, b})
		}
	}
	switch {
	case !d.isDue(a):
		return 1, nil
	case a.To >= game.NoSquare:
		return 1, d.takeOff(ctx, d.on(a.From))
	case a.From >= game.NoSquare:
		d.putOn(a)
		return 1, nil
	}
	return 1, d.bring(ctx, d.on(a.From), d.square(a.To))
}

// isDue says whether an act is still to be done: its piece stands where it is to
// leave, or is not yet where it is to go.
func (d *builder) isDue(a game.Act) bool {
	if a.From < game.NoSquare {
		i := d.on(a.From)
		return i >= 0 && d.pieces[i].Piece == a.Piece
	}
	i := d.on(a.To)
	return i < 0 || d.pieces[i].Piece != a.Piece
}

// askFor has a person do all acts that are still due.
func (d *builder) askFor(acts []game.Act) {
	for i, a := range acts {
		switch {
		case i > 0 && game.AreExchange(acts[i-1], a):
		case !d.isDue(a):
		case i+1 < len(acts) && game.AreExchange(a, acts[i+1]):
			d.askOn(acts[i+1].Piece, a.From)
		case a.To >= game.NoSquare:
			d.askOff(d.on(a.From))
		case a.From >= game.NoSquare:
			d.askOn(a.Piece, a.To)
		default:
			d.askMove(d.on(a.From), d.square(a.To), "")
		}
	}
}

// firstShare is how much quicker the second order must be, as a share, to be
// preferred: by custom the king moves first when castling.
const firstShare = 0.85

// bothWays brings two pieces in the given order, or the other way round if that
// asks less, disturbs fewer or is much quicker.
func (d *builder) bothWays(ctx context.Context, acts [2]game.Act) error {
	var best *builder
	for first := range 2 {
		try := d.fork()
		for k := range 2 {
			a := acts[(first+k)%2]
			if err := try.bring(ctx, try.on(a.From), d.square(a.To)); err != nil {
				return err
			}
		}
		if best == nil || try.better(best) {
			best = try
		}
	}
	*d = *best
	return nil
}

// better compares two plans for the same end: fewer questions, then fewer
// pieces disturbed, then much less time.
func (d *builder) better(o *builder) bool {
	switch {
	case d.asks != o.asks:
		return d.asks < o.asks
	case d.aside != o.aside:
		return d.aside < o.aside
	}
	return d.time < firstShare*o.time
}

// bring gets piece i to a target by whatever works: a free lane, own pieces
// stepping aside, a guest's piece adjusted, or a question.
func (d *builder) bring(ctx context.Context, i int, to target) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if !d.pieces[i].Magnet {
		d.askMove(i, to, "")
		return nil
	}
	if h, ok := d.transport(i, to.at); ok {
		if try := d.fork(); try.carry(i, to, h) {
			*d = *try
			return nil
		}
	}
	if ok, err := d.stepAside(ctx, i, to); ok || err != nil {
		return err
	}
	if d.straighten(i, to) {
		return nil
	}
	d.askMove(i, to, ": no lane is free for it")
	return nil
}
