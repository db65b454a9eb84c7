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
	o := t.game.Outcome()
	if !o.Over() && o.Claim != chess.NoReason {
		_ = t.game.ClaimDraw() // there is one to claim
		o = t.game.Outcome()
	}
	return o.Over() || t.s.MaxPlies > 0 && len(t.game.Moves) >= t.s.MaxPlies
}

// finish makes a move that stands on the board part of the game; r says which,
// and how it is known.
func (t *Table) finish(ctx context.Context, r Record) error {
	pos := t.game.Position()
	r.State, r.SAN, r.By = t.state, pos.SAN(r.Move), ByGuest
	if pos.SideToMove() == t.s.Machine {
		r.By = ByMachine
	}
	t.settlePieces(pos, r.Move)
	t.inspectSlots()
	if err := t.game.Push(r.Move); err != nil {
		return err
	}
	t.decided, t.tries, t.replans, t.failures = 0, 0, 0, 0
	t.doubts = doubts{}
	t.moved()
	r.JPEG = t.shown.JPEG
	return t.record(ctx, r)
}

// next is the turn of a game in which the side to move is about to act.
func (t *Table) next() Turn {
	switch {
	case t.ended():
		return t.ending()
	case t.machineMoves():
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
	if o := t.game.Outcome(); o.Over() {
		return o.String()
	}
	return fmt.Sprintf("it stops here, after %d plies", len(t.game.Moves))
}

// over tells how the game ended.
func (t *Table) over(ctx context.Context) error {
	if t.Arranged() {
		return nil
	}
	return t.tell(ctx, notice.Notice{Kind: notice.GameOver, Move: t.lastMove, Text: overSentence(t.game.Outcome(), t.s.Machine)})
}
