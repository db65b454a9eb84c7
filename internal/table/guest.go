// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/model"
	"boardhand/internal/table/view"
	"boardhand/internal/table/wording"
)

// guestTurn is the guest's move: waited for, and read.
type guestTurn struct {
	*kit
	sheet      *scoresheet
	ask        *asker
	first      sight.Reading // the one that woke Reading
	saidNarrow bool          // the guest has heard that the tray is too narrow
}

// guesting tells the guest that it is their move and waits for something to change.
func (g *guestTurn) guesting(ctx context.Context) (journal.Turn, error) {
	if err := g.ask.askBack(ctx); err != nil {
		return journal.Turn{}, err
	}
	pos := g.m.Game.Position()
	n := notice.Notice{Kind: notice.YourMove, Move: g.m.LastMove(), Text: wording.YourMove(g.m.Game, g.m.Side), FEN: pos.FEN()}
	g.offerSlot(pos, &n)
	if g.m.Narrow && !g.saidNarrow {
		g.saidNarrow, n.Text = true, wording.NarrowTray+" "+n.Text
	}
	if err := g.d.Tell(ctx, n); err != nil {
		return journal.Turn{}, err
	}
	return g.watch(ctx)
}

// offerSlot tells the guest where in the tray to stand a piece with a magnet
// that they take, so that the machine can carry it home for the next game.
func (g *guestTurn) offerSlot(pos chess.Position, n *notice.Notice) {
	g.m.Now.Offered = 0
	scene := g.c.Scene()
	for _, m := range pos.LegalMoves(nil) {
		victim, at := pos.Captured(m)
		if victim == chess.NoPiece || !g.m.Carried[victim.Color()] {
			continue
		}
		for i, piece := range scene.Pieces {
			spot, free := g.Planner.Mender.SlotFor(scene, i)
			if piece.Square != at || !free {
				continue
			}
			g.m.Now.Offered, n.Slot = g.m.Layout.PlaceOf(chess.NoSquare, spot), &spot
			n.Text += wording.StandInSlot(g.m.Layout.Words(g.m.Now.Offered))
			return
		}
	}
}

// watch looks until a picture without a hand differs from the position.
func (g *guestTurn) watch(ctx context.Context) (journal.Turn, error) {
	for {
		r, err := g.v.Look(ctx)
		if errors.Is(err, desk.ErrRight) {
			continue
		}
		if err != nil {
			return journal.Turn{}, err
		}
		switch r.State {
		case sight.Same:
			g.clearDoubts()
		case sight.Hand:
			if err := g.v.StayingHand(ctx, r); err != nil {
				return journal.Turn{}, err
			}
		default:
			g.first = r
			return journal.Turn{To: journal.Reading, Rec: journal.Record{What: journal.ChangeSeen, Squares: r.Squares}}, nil
		}
	}
}

// reading works out what the guest did: it believes what two pictures in a
// row say, asks when they leave a doubt, and explains what does not fit. What
// was explained or asked of a sight is not said of it again.
func (g *guestTurn) reading(ctx context.Context) (journal.Turn, error) {
	seen := g.first
	for {
		r, err := g.v.Confirm(ctx, seen)
		if errors.Is(err, desk.ErrRight) {
			g.Eye.Learner.Agree(g.m.Game.Position())
			return journal.TurnTo(journal.Guesting, journal.NothingPlayed), nil
		}
		if err != nil {
			return journal.Turn{}, err
		}
		seen = sight.Reading{}
		g.v.NoHand()
		switch r.State {
		case sight.Moved:
			return g.accept(ctx, r)
		case sight.Same:
			return journal.TurnTo(journal.Guesting, journal.NothingPlayed), nil
		}
		turn, done, err := g.unclear(ctx, r)
		if done || err != nil {
			return turn, err
		}
	}
}

// accept makes the guest's move part of the game.
func (g *guestTurn) accept(ctx context.Context, r sight.Reading) (journal.Turn, error) {
	if err := g.Eye.Follower.Accept(r.Move); err != nil {
		return journal.Turn{}, err
	}
	if err := g.sheet.finish(ctx, journal.Record{What: journal.GuestMoved, Move: r.Move, Belief: r.Belief}); err != nil {
		return journal.Turn{}, err
	}
	return g.sheet.next(), nil
}

// unclear deals with a settled picture that is neither a move nor none.
func (g *guestTurn) unclear(ctx context.Context, r sight.Reading) (journal.Turn, bool, error) {
	if r.State == sight.Unsure {
		moves := slices.DeleteFunc(candidates(r, g.m.Game.Position()), g.doubts.isRefused)
		if len(moves) > 0 {
			return g.askWhich(ctx, moves)
		}
	}
	if g.doubts.odd++; g.doubts.odd%view.RemindAfter == askAfter {
		if turn, done, err := g.askSuggested(ctx); done || err != nil {
			return turn, done, err
		}
	}
	if !g.doubts.said.IsDue(r) {
		return journal.Turn{}, false, nil
	}
	return journal.Turn{}, false, g.d.Tell(ctx, wording.MendNotice(r, g.m.Game.Position()))
}

// askSuggested asks whether the guest played what the single squares suggest,
// when the reading has found no explanation for a while.
func (g *guestTurn) askSuggested(ctx context.Context) (journal.Turn, bool, error) {
	o := g.v.Evidence()
	if !o.IsOpen() {
		return journal.Turn{}, false, nil
	}
	moves, lead := o.Explained(g.m.Game.Position())
	if len(moves) != 1 || lead < clearly {
		return journal.Turn{}, false, nil
	}
	if g.doubts.isRefused(moves[0]) {
		return journal.Turn{}, false, nil
	}
	return g.askWhich(ctx, model.Alternatives(moves[0]))
}

// askWhich asks the guest which of some moves was played.
func (g *guestTurn) askWhich(ctx context.Context, moves []chess.Move) (journal.Turn, bool, error) {
	pos := g.m.Game.Position()
	q := wording.WhichMove(moves, pos)
	i, err := g.d.Ask(ctx, q)
	if err != nil {
		return journal.Turn{}, false, err
	}
	if i == len(moves) { // none of these
		g.doubts.refused = append(g.doubts.refused, moves...)
		n := notice.Notice{Kind: notice.PleaseMend, Text: "Then please name the move, or set the board as the plan shows."}
		return journal.Turn{}, false, g.d.Tell(ctx, n)
	}
	m := moves[i]
	if err := g.Eye.Follower.Resolve(m); err != nil {
		return journal.Turn{}, false, err
	}
	if m == 0 {
		return journal.Turn{To: journal.Guesting, Rec: journal.Record{What: journal.NothingPlayed, By: journal.ByGuest}}, true, nil
	}
	if err := g.sheet.finish(ctx, journal.Record{What: journal.GuestNamed, Move: m, Belief: 1}); err != nil {
		return journal.Turn{}, false, err
	}
	return g.sheet.next(), true, nil
}

// candidates are the moves that a reading leaves open, likeliest first, each once; zero
// for nothing.
func candidates(r sight.Reading, pos chess.Position) (out []chess.Move) {
	for _, c := range r.Candidates {
		if (c.Move == 0 || pos.Legal(c.Move)) && !slices.Contains(out, c.Move) {
			out = append(out, c.Move)
		}
	}
	return out
}
