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

// scoresheet makes moves part of the game and knows whose turn comes, and how it ends.
type scoresheet struct{ *kit }

// finish makes a move that stands on the board part of the game; r says which,
// and how it is known.
func (s *scoresheet) finish(ctx context.Context, r journal.Record) error {
	pos := s.m.Game.Position()
	r.State, r.SAN, r.By = s.d.State, pos.SAN(r.Move), journal.ByGuest
	if pos.SideToMove() == s.m.Side {
		r.By = journal.ByMachine
	}
	offered := s.m.Now.Offered
	s.m.Settle(r.Move)
	s.v.InspectSlots()
	s.v.Believe(offered)
	if err := s.m.Game.Push(r.Move); err != nil {
		return err
	}
	s.m.Decided, s.spent = 0, spent{}
	s.clearDoubts()
	s.d.CountPlies()
	r.JPEG = s.v.Shown.JPEG
	return s.d.Record(ctx, r)
}

// ended says whether the game has ended. The machine claims the draws that may
// be claimed: its player has seen them coming.
func (s *scoresheet) ended() bool {
	o := s.m.Game.Outcome()
	if !o.Over() && o.Claim != chess.NoReason {
		_ = s.m.Game.ClaimDraw() // there is one to claim
		o = s.m.Game.Outcome()
	}
	return o.Over() || s.MaxPlies > 0 && len(s.m.Game.Moves) >= s.MaxPlies
}

// next is the turn of a game in which the side to move is about to act.
func (s *scoresheet) next() journal.Turn {
	switch {
	case s.ended():
		return s.ending()
	case s.m.IsMachinesTurn():
		return journal.TurnTo(journal.Thinking, journal.MachineToMove)
	}
	return journal.TurnTo(journal.Guesting, journal.GuestToMove)
}

// turnTo is the turn to whoever is to move, with a record of why.
func (s *scoresheet) turnTo(why journal.Record) journal.Turn {
	next := s.next()
	if next.To == journal.Over {
		return next
	}
	next.Rec = why
	return next
}

// ending is the turn to the game's end.
func (s *scoresheet) ending() journal.Turn {
	return journal.Turn{To: journal.Over, Rec: journal.Record{What: journal.GameEnded, Said: s.end()}}
}

// end says how the game ended.
func (s *scoresheet) end() string {
	if o := s.m.Game.Outcome(); o.Over() {
		return o.String()
	}
	return fmt.Sprintf("it stops here, after %d plies", len(s.m.Game.Moves))
}

// over tells how the game ended.
func (s *scoresheet) over(ctx context.Context) error {
	if s.job.State() == journal.Arranged {
		return nil
	}
	return s.d.Tell(ctx, notice.Notice{Kind: notice.GameOver, Move: s.m.LastMove(), Text: wording.GameOver(s.m.Game.Outcome(), s.m.Side)})
}
