// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"fmt"

	"boardhand/internal/chess"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
)

// enter makes a transition. The picture that showed the table ready is kept.
func (t *Table) enter(ctx context.Context, next journal.Turn) error {
	if t.d.State == journal.Setting && next.To != journal.Trouble && next.Rec.What != "" {
		next.Rec.JPEG = t.v.Shown.JPEG
	}
	return t.d.Enter(ctx, next)
}

// redirect takes the table from whatever it waits for to another state.
type redirect struct{ journal.Turn }

func (r *redirect) Error() string { return "the table goes on to " + string(r.To) }

func (t *Table) grant(ctx context.Context, r journal.Request) error {
	switch r.Kind {
	case journal.RequestBack:
		return t.grantTask(journal.Task{Kind: journal.TakeBack, Plies: min(r.Plies, len(t.m.Game.Moves))})
	case journal.RequestNew:
		return t.grantTask(journal.Task{Kind: journal.SetUp, Side: r.Side, Time: r.Time})
	case journal.RequestResign:
		return t.resign()
	case journal.RequestDraw:
		return t.considerDraw(ctx)
	case journal.RequestPlayed:
		return t.named(ctx, r.Move)
	case journal.RequestPosition:
		return t.agreed(ctx, r.FEN)
	case journal.RequestAfresh:
		t.p.Eye.Learner.Afresh()
		return nil
	case journal.RequestRight:
		return desk.ErrRight
	}
	return fmt.Errorf("%q is nothing that can be granted", r.Kind)
}

// grantTask begins a task; the record of its begin is that of the transition.
func (t *Table) grantTask(w journal.Task) error {
	if w.Kind == journal.TakeBack && w.Plies == 0 {
		return nil
	}
	turn := w.Turn()
	progress := Intact
	if w.Kind == journal.SetUp && t.d.State != journal.Guesting && t.d.State != journal.Over { // in mid-anything
		progress = BrokenOff
	}
	t.setJob(w, progress)
	return &redirect{turn}
}

func (t *Table) resign() error {
	if err := t.m.Game.Resign(t.m.Side.Other()); err != nil {
		return nil // it has just ended
	}
	return &redirect{t.ending()}
}

// drawLimit is how many centipawns the machine must be ahead to play on when a
// draw is offered: less than the worth of a pawn's half (common practice, no
// source). Doubling it makes the machine agree while it still stands better.
const drawLimit = 40

// considerDraw agrees to a draw unless the machine stands better.
func (t *Table) considerDraw(ctx context.Context) error {
	if err := t.d.Record(ctx, journal.Record{State: t.d.State, What: journal.DrawOffered}); err != nil {
		return err
	}
	cp, err := t.p.Player.Weigh(ctx, t.m.Game)
	if err == nil && cp <= drawLimit && t.m.Game.AgreeDraw() == nil {
		return &redirect{t.ending()}
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err := t.d.Record(ctx, journal.Record{State: t.d.State, What: journal.DrawRefused}); err != nil {
		return err
	}
	return t.d.Say(ctx, "Thank you, but I would like to play on.")
}

// named makes the move that a person says was played; zero: nothing was.
func (t *Table) named(ctx context.Context, m chess.Move) error {
	pos := t.m.Game.Position()
	if t.m.IsMachinesTurn() || m != 0 && !pos.Legal(m) {
		return t.d.Say(ctx, fmt.Sprintf("%s is not a move that can be played here.", m))
	}
	if m == 0 {
		t.p.Eye.Learner.Agree(pos)
		return &redirect{journal.Turn{To: journal.Guesting, Rec: journal.Record{What: journal.NothingPlayed, By: journal.ByGuest}}}
	}
	if err := t.p.Eye.Follower.Resolve(m); err != nil {
		return err
	}
	if err := t.finish(ctx, journal.Record{Move: m, What: journal.GuestNamed, Belief: 1}); err != nil {
		return err
	}
	return &redirect{t.next()}
}

// agreed takes a position for what stands on the board. Where the rules lead
// there in one or two plies, these are the game's; else the game goes on from
// that position.
func (t *Table) agreed(ctx context.Context, fen string) error {
	want, err := chess.ParseFEN(fen)
	if err != nil {
		return err
	}
	pos := t.m.Game.Position()
	moves, ok := reaching(pos, want)
	if !ok {
		return t.restart(ctx, want)
	}
	t.p.Eye.Learner.Agree(want)
	if len(moves) == 0 {
		return &redirect{t.turnTo(journal.Record{What: journal.Agreed, FEN: fen})}
	}
	for _, m := range moves {
		if err := t.finish(ctx, journal.Record{Move: m, What: journal.GuestNamed, Belief: 1}); err != nil {
			return err
		}
	}
	return &redirect{t.next()}
}

// reaching finds at most two plies that lead from one position to another.
func reaching(pos, want chess.Position) ([]chess.Move, bool) {
	if pos.Key() == want.Key() {
		return nil, true
	}
	for _, a := range pos.LegalMoves(nil) {
		one := pos.After(a)
		if one.Key() == want.Key() {
			return []chess.Move{a}, true
		}
		for _, b := range one.LegalMoves(nil) {
			if two := one.After(b); two.Key() == want.Key() {
				return []chess.Move{a, b}, true
			}
		}
	}
	return nil, false
}

// restart lets the game go on from a position that was agreed.
func (t *Table) restart(ctx context.Context, pos chess.Position) error {
	t.p.Eye.Learner.Agree(pos)
	*t.m.Game = *chess.NewGame(pos)
	t.m.Decided, t.tries = 0, 0
	t.m.Agree(pos)
	t.d.CountPlies()
	return &redirect{t.turnTo(journal.Record{What: journal.Agreed, FEN: pos.FEN()})}
}

// turnTo is the turn to whoever is to move, with a record of why.
func (t *Table) turnTo(why journal.Record) journal.Turn {
	next := t.next()
	if next.To == journal.Over {
		return next
	}
	next.Rec = why
	return next
}
