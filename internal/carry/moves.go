package carry

import (
	"context"

	"boardhand/internal/chess"
)

// perform adds everything one legal move needs.
func (d *draft) perform(ctx context.Context, pos *chess.Position, m chess.Move) error {
	if pos.IsCastling(m) {
		return d.castle(ctx, pos, m)
	}
	if _, sq := pos.Captured(m); sq < chess.NoSquare {
		if err := d.takeOff(ctx, d.on(sq)); err != nil {
			return err
		}
	}
	man := d.men[d.on(m.From())]
	if err := d.bring(ctx, d.on(m.From()), d.square(m.To())); err != nil {
		return err
	}
	if k := m.Promotion(); k != chess.NoKind {
		return d.promote(ctx, m.To(), chess.MakePiece(man.Piece.Color(), k))
	}
	return nil
}

// castle brings king and rook to their places.
func (d *draft) castle(ctx context.Context, pos *chess.Position, m chess.Move) error {
	from, to := pos.RookMove(m)
	return d.bothWays(ctx, [2][2]chess.Square{{m.From(), m.To()}, {from, to}})
}

// kingFirst is how much quicker the second order must be, as a share, to be
// preferred: by custom the king moves first when castling.
const kingFirst = 0.85

// bothWays brings two men in the given order, or the other way round if that
// asks less, disturbs fewer or is much quicker.
func (d *draft) bothWays(ctx context.Context, legs [2][2]chess.Square) error {
	var best *draft
	for first := range 2 {
		try := d.fork()
		for k := range 2 {
			leg := legs[(first+k)%2]
			if err := try.bring(ctx, try.on(leg[0]), d.square(leg[1])); err != nil {
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

// better compares two drafts for the same end: fewer questions, then fewer
// men disturbed, then much less time.
func (d *draft) better(o *draft) bool {
	switch {
	case d.asks != o.asks:
		return d.asks < o.asks
	case d.aside != o.aside:
		return d.aside < o.aside
	}
	return d.time < kingFirst*o.time
}

// bring gets man i to a target by whatever works: a free lane, own men
// stepping aside, a guest's man set straight, or a question.
func (d *draft) bring(ctx context.Context, i int, to target) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if !d.men[i].Magnet {
		d.askMove(i, to, "")
		return nil
	}
	if h, ok := d.haul(i, to.at); ok {
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
