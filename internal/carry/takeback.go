// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"context"
	"fmt"

	"boardhand/internal/chess"
)

// TakeBack plans to undo the legal move m that was made from position before;
// the board shows the position after it.
func (p *Planner) TakeBack(ctx context.Context, s Scene, before chess.Position, m chess.Move) (Plan, error) {
	if !before.Legal(m) {
		return Plan{}, fmt.Errorf("%v is not a legal move in %s: it cannot have been made there", m, before.FEN())
	}
	if err := fits(s, before.After(m)); err != nil {
		return Plan{}, err
	}
	d := p.draft(s)
	if err := d.undo(ctx, &before, m); err != nil {
		return Plan{}, err
	}
	d.groupAsks()
	return p.finish(s, d, &before, func(d *draft) {
		d.askToUndo(&before, m)
		d.groupAsks()
	})
}

// undo adds the steps of the move run backwards.
func (d *draft) undo(ctx context.Context, before *chess.Position, m chess.Move) error {
	if before.IsCastling(m) {
		return d.uncastle(ctx, before, m)
	}
	if m.Promotion() != chess.NoKind {
		pawn := chess.MakePiece(before.SideToMove(), chess.Pawn)
		if err := d.promote(ctx, m.To(), pawn); err != nil { // the tray's pawn, or a question
			return err
		}
	}
	if err := d.bring(ctx, d.on(m.To()), d.square(m.From())); err != nil {
		return err
	}
	return d.putBack(before, m)
}

// putBack returns what the move took: from the tray, else by hand.
func (d *draft) putBack(before *chess.Position, m chess.Move) error {
	taken, sq := before.Captured(m)
	if sq >= chess.NoSquare {
		return nil
	}
	if k := d.inTray(taken); k >= 0 && d.tryCarry(k, d.square(sq)) {
		return nil
	}
	d.askOn(taken, sq) // it was handed to a person, or no lane is free
	return nil
}

func (d *draft) uncastle(ctx context.Context, before *chess.Position, m chess.Move) error {
	from, to := before.RookMove(m)
	return d.bothWays(ctx, [2][2]chess.Square{{m.To(), m.From()}, {to, from}})
}

// askToUndo has a person take a whole move back.
func (d *draft) askToUndo(before *chess.Position, m chess.Move) {
	if m.Promotion() != chess.NoKind {
		d.askOn(chess.MakePiece(before.SideToMove(), chess.Pawn), m.To())
	}
	d.askMove(d.on(m.To()), d.square(m.From()), "")
	if before.IsCastling(m) {
		from, to := before.RookMove(m)
		d.askMove(d.on(to), d.square(from), "")
	}
	if taken, sq := before.Captured(m); sq < chess.NoSquare {
		d.askOn(taken, sq)
	}
}
