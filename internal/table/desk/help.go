// SPDX-License-Identifier: Apache-2.0

package desk

import (
	"context"

	"boardhand/internal/chess"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/wording"
)

// Helper is who finds a move for a guest who asks for a hint, and plays more or less
// strongly.
type Helper interface {
	// Advise finds a good move for the guest.
	Advise(ctx context.Context, g *chess.Game) (chess.Move, error)
	// SetStrength has the player choose so strongly from the next move on.
	SetStrength(name string) error
}

// hinted is the move that a guest was given a hint of.
type hinted struct {
	in   uint64 // key of the position
	move chess.Move
}

// Hint tells the guest which piece to look at, and where to move it when it is asked
// once more.
func (d *Desk) Hint(ctx context.Context, by Helper) error {
	pos := d.model.Game.Position()
	isAgain := d.hinted.in == pos.Key()
	if !isAgain {
		m, err := by.Advise(ctx, d.model.Game)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil || !pos.Legal(m) {
			return d.Say(ctx, "I have no hint for you here. Your move.")
		}
		d.hinted = hinted{pos.Key(), m}
	}
	n := wording.Hint(pos, d.hinted.move, isAgain)
	r := journal.Record{State: d.State, What: journal.Hinted, Squares: n.Squares}
	if isAgain {
		r.SAN = pos.SAN(d.hinted.move)
	}
	if at := d.model.Now.Offered; at != 0 {
		n.Text += wording.StandInSlot(d.model.Layout.Words(at))
	}
	r.Said = n.Text
	if err := d.Record(ctx, r); err != nil {
		return err
	}
	return d.Tell(ctx, n)
}

// Strengthen has the machine play so strongly from its next move on.
func (d *Desk) Strengthen(ctx context.Context, by Helper, how string) error {
	if err := by.SetStrength(how); err != nil {
		return d.Say(ctx, err.Error())
	}
	return d.Record(ctx, journal.Record{State: d.State, What: journal.StrengthSet, Strength: how})
}
