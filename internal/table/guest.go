// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/view"
	"boardhand/internal/table/wording"
)

// guesting tells the guest that it is their move and waits for something to change.
func (t *Table) guesting(ctx context.Context) (journal.Turn, error) {
	if err := t.askBack(ctx); err != nil {
		return journal.Turn{}, err
	}
	pos := t.m.Game.Position()
	n := notice.Notice{Kind: notice.YourMove, Move: t.m.LastMove(), Text: wording.YourMove(t.m.Game, t.m.Side), FEN: pos.FEN()}
	t.offerSlot(pos, &n)
	if t.m.Narrow && !t.saidNarrow {
		t.saidNarrow, n.Text = true, wording.NarrowTray+" "+n.Text
	}
	if err := t.d.Tell(ctx, n); err != nil {
		return journal.Turn{}, err
	}
	return t.watch(ctx)
}

// offerSlot tells the guest where in the tray to stand a piece with a magnet
// that they take, so that the machine can carry it home for the next game.
func (t *Table) offerSlot(pos chess.Position, n *notice.Notice) {
	t.m.Now.Offered = 0
	scene := t.c.Scene()
	for _, m := range pos.LegalMoves(nil) {
		victim, at := pos.Captured(m)
		if victim == chess.NoPiece || !t.m.Carried[victim.Color()] {
			continue
		}
		for i, piece := range scene.Pieces {
			spot, free := t.p.Planner.Mender.SlotFor(scene, i)
			if piece.Square != at || !free {
				continue
			}
			t.m.Now.Offered, n.Slot = t.m.Layout.PlaceOf(chess.NoSquare, spot), &spot
			n.Text += fmt.Sprintf(" If you take a piece of mine, stand it in %s.", t.m.Layout.Words(t.m.Now.Offered))
			return
		}
	}
}

// watch looks until a picture without a hand differs from the position.
func (t *Table) watch(ctx context.Context) (journal.Turn, error) {
	for {
		r, err := t.v.Look(ctx)
		if errors.Is(err, desk.ErrRight) {
			continue
		}
		if err != nil {
			return journal.Turn{}, err
		}
		switch r.State {
		case sight.Same:
			t.clearDoubts()
		case sight.Hand:
			if err := t.v.StayingHand(ctx, r); err != nil {
				return journal.Turn{}, err
			}
		default:
			t.first = r
			return journal.Turn{To: journal.Reading, Rec: journal.Record{What: journal.ChangeSeen, Squares: r.Squares}}, nil
		}
	}
}

// reading works out what the guest did: it believes what two pictures in a
// row say, asks when they leave a doubt, and explains what does not fit. What
// was explained or asked of a sight is not said of it again.
func (t *Table) reading(ctx context.Context) (journal.Turn, error) {
	seen := t.first
	for {
		r, err := t.v.Confirm(ctx, seen)
		if errors.Is(err, desk.ErrRight) {
			t.p.Eye.Learner.Agree(t.m.Game.Position())
			return journal.TurnTo(journal.Guesting, journal.NothingPlayed), nil
		}
		if err != nil {
			return journal.Turn{}, err
		}
		seen = sight.Reading{}
		t.v.NoHand()
		switch r.State {
		case sight.Moved:
			return t.accept(ctx, r)
		case sight.Same:
			return journal.TurnTo(journal.Guesting, journal.NothingPlayed), nil
		}
		turn, done, err := t.unclear(ctx, r)
		if done || err != nil {
			return turn, err
		}
	}
}

// accept makes the guest's move part of the game.
func (t *Table) accept(ctx context.Context, r sight.Reading) (journal.Turn, error) {
	if err := t.p.Eye.Follower.Accept(r.Move); err != nil {
		return journal.Turn{}, err
	}
	if err := t.finish(ctx, journal.Record{What: journal.GuestMoved, Move: r.Move, Belief: r.Belief}); err != nil {
		return journal.Turn{}, err
	}
	return t.next(), nil
}

// unclear deals with a settled picture that is neither a move nor none.
func (t *Table) unclear(ctx context.Context, r sight.Reading) (journal.Turn, bool, error) {
	if r.State == sight.Unsure {
		moves := slices.DeleteFunc(candidates(r, t.m.Game.Position()), t.doubts.isRefused)
		if len(moves) > 0 {
			return t.askWhich(ctx, moves)
		}
	}
	if t.doubts.odd++; t.doubts.odd%view.RemindAfter == askAfter {
		if turn, done, err := t.askSuggested(ctx); done || err != nil {
			return turn, done, err
		}
	}
	if !t.doubts.said.IsDue(r) {
		return journal.Turn{}, false, nil
	}
	return journal.Turn{}, false, t.d.Tell(ctx, wording.MendNotice(r, t.m.Game.Position()))
}

// candidates are the moves that a reading leaves open, likeliest first; zero
// for nothing.
func candidates(r sight.Reading, pos chess.Position) (out []chess.Move) {
	for _, c := range r.Candidates {
		if c.Move == 0 || pos.Legal(c.Move) {
			out = append(out, c.Move)
		}
	}
	return out
}

// askSuggested asks whether the guest played what the single squares suggest,
// when the reading has found no explanation for a while.
func (t *Table) askSuggested(ctx context.Context) (journal.Turn, bool, error) {
	o := t.v.Evidence()
	if !o.IsOpen() {
		return journal.Turn{}, false, nil
	}
	moves, lead := o.Explained(t.m.Game.Position())
	if len(moves) != 1 || lead < clearly {
		return journal.Turn{}, false, nil
	}
	if t.doubts.isRefused(moves[0]) {
		return journal.Turn{}, false, nil
	}
	return t.askWhich(ctx, alternatives(moves[0]))
}

// alternatives are the moves that look like one by which side stands where: a
// pawn promoted to any kind, the queen first.
func alternatives(m chess.Move) []chess.Move {
	if m.Promotion() == chess.NoKind {
		return []chess.Move{m}
	}
	var out []chess.Move
	for _, k := range [4]chess.Kind{chess.Queen, chess.Rook, chess.Bishop, chess.Knight} {
		out = append(out, chess.MakeMove(m.From(), m.To(), k))
	}
	return out
}

// askWhich asks the guest which of some moves was played.
func (t *Table) askWhich(ctx context.Context, moves []chess.Move) (journal.Turn, bool, error) {
	pos := t.m.Game.Position()
	q := wording.WhichMove(moves, pos)
	i, err := t.d.Ask(ctx, q)
	if err != nil {
		return journal.Turn{}, false, err
	}
	if i == len(moves) { // none of these
		t.doubts.refused = append(t.doubts.refused, moves...)
		n := notice.Notice{Kind: notice.PleaseMend, Text: "Then please name the move, or set the board as the plan shows."}
		return journal.Turn{}, false, t.d.Tell(ctx, n)
	}
	m := moves[i]
	if err := t.p.Eye.Follower.Resolve(m); err != nil {
		return journal.Turn{}, false, err
	}
	if m == 0 {
		return journal.Turn{To: journal.Guesting, Rec: journal.Record{What: journal.NothingPlayed, By: journal.ByGuest}}, true, nil
	}
	if err := t.finish(ctx, journal.Record{What: journal.GuestNamed, Move: m, Belief: 1}); err != nil {
		return journal.Turn{}, false, err
	}
	return t.next(), true, nil
}
