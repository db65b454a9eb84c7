// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"fmt"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
)

// ended says whether the game has ended. The machine claims the draws that may
// be claimed: its player has seen them coming.
func (t *Table) ended() bool {
	o := t.m.Game.Outcome()
	if !o.Over() && o.Claim != chess.NoReason {
		_ = t.m.Game.ClaimDraw() // there is one to claim
		o = t.m.Game.Outcome()
	}
	return o.Over() || t.s.MaxPlies > 0 && len(t.m.Game.Moves) >= t.s.MaxPlies
}

// finish makes a move that stands on the board part of the game; r says which,
// and how it is known.
func (t *Table) finish(ctx context.Context, r Record) error {
	pos := t.m.Game.Position()
	r.State, r.SAN, r.By = t.d.state, pos.SAN(r.Move), ByGuest
	if pos.SideToMove() == t.m.Side {
		r.By = ByMachine
	}
	t.m.Settle(r.Move)
	t.v.inspectSlots()
	if err := t.m.Game.Push(r.Move); err != nil {
		return err
	}
	t.m.Decided, t.tries, t.replans, t.failures = 0, 0, 0, 0
	t.clearDoubts()
	t.d.countPlies()
	r.JPEG = t.v.shown.JPEG
	return t.d.record(ctx, r)
}

// next is the turn of a game in which the side to move is about to act.
func (t *Table) next() Turn {
	switch {
	case t.ended():
		return t.ending()
	case t.m.IsMachinesTurn():
		return to(Thinking, MachineToMove)
	}
	return to(Guesting, GuestToMove)
}

// ending is the turn to the game's end.
func (t *Table) ending() Turn {
	return Turn{Over, Record{What: GameEnded, Said: t.end()}}
}

// end says how the game ended.
func (t *Table) end() string {
	if o := t.m.Game.Outcome(); o.Over() {
		return o.String()
	}
	return fmt.Sprintf("it stops here, after %d plies", len(t.m.Game.Moves))
}

// over tells how the game ended.
func (t *Table) over(ctx context.Context) error {
	if t.Arranged() {
		return nil
	}
	return t.d.tell(ctx, notice.Notice{Kind: notice.GameOver, Move: t.m.LastMove(), Text: GameOver(t.m.Game.Outcome(), t.m.Side)})
}
