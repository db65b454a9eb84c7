// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"fmt"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/wording"
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
func (t *Table) finish(ctx context.Context, r journal.Record) error {
	pos := t.m.Game.Position()
	r.State, r.SAN, r.By = t.d.State, pos.SAN(r.Move), journal.ByGuest
	if pos.SideToMove() == t.m.Side {
		r.By = journal.ByMachine
	}
	offered := t.m.Now.Offered
	t.m.Settle(r.Move)
	t.v.InspectSlots()
	t.v.Believe(offered)
	if err := t.m.Game.Push(r.Move); err != nil {
		return err
	}
	t.m.Decided, t.tries, t.replans, t.failures, t.putOffs = 0, 0, 0, 0, 0
	t.clearDoubts()
	t.d.CountPlies()
	r.JPEG = t.v.Shown.JPEG
	return t.d.Record(ctx, r)
}

// next is the turn of a game in which the side to move is about to act.
func (t *Table) next() journal.Turn {
	switch {
	case t.ended():
		return t.ending()
	case t.m.IsMachinesTurn():
		return journal.TurnTo(journal.Thinking, journal.MachineToMove)
	}
	return journal.TurnTo(journal.Guesting, journal.GuestToMove)
}

// ending is the turn to the game's end.
func (t *Table) ending() journal.Turn {
	return journal.Turn{To: journal.Over, Rec: journal.Record{What: journal.GameEnded, Said: t.end()}}
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
	return t.d.Tell(ctx, notice.Notice{Kind: notice.GameOver, Move: t.m.LastMove(), Text: wording.GameOver(t.m.Game.Outcome(), t.m.Side)})
}
