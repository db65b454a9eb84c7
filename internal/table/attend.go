// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"fmt"

	"boardhand/internal/chess"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/model"
)

// redirect takes the table from whatever it waits for to another state.
type redirect struct{ journal.Turn }

func (r *redirect) Error() string { return "the table goes on to " + string(r.To) }

// granter grants what a person asks for.
type granter struct {
	*kit
	sheet *scoresheet
}

func (g *granter) grant(ctx context.Context, r journal.Request) error {
	switch r.Kind {
	case journal.RequestBack:
		return g.grantTask(journal.Task{Kind: journal.TakeBack, Plies: min(r.Plies, len(g.m.Game.Moves))})
	case journal.RequestNew:
		return g.grantTask(journal.Task{Kind: journal.SetUp, Side: r.Side, Time: r.Time, Start: r.Start(g.m.Side)})
	case journal.RequestResign:
		return g.resign()
	case journal.RequestDraw:
		return g.considerDraw(ctx)
	case journal.RequestPlayed:
		return g.named(ctx, r.Move)
	case journal.RequestPosition:
		return g.agreed(ctx, r.FEN)
	case journal.RequestAfresh:
		g.Eye.Learner.Afresh()
		return nil
	case journal.RequestHint:
		return g.d.Hint(ctx, g.Player)
	case journal.RequestStrength:
		return g.d.Strengthen(ctx, g.Player, r.Strength)
	case journal.RequestRight:
		return desk.ErrRight
	}
	return fmt.Errorf("%q is nothing that can be granted", r.Kind)
}

// grantTask begins a task; the record of its begin is that of the transition.
func (g *granter) grantTask(w journal.Task) error {
	if w.Kind == journal.TakeBack && w.Plies == 0 {
		return nil
	}
	turn := w.Turn()
	progress := journal.Intact
	if w.Kind == journal.SetUp && g.d.State != journal.Guesting && g.d.State != journal.Over { // in mid-anything
		progress = journal.BrokenOff
	}
	g.job.Set(w, progress)
	return &redirect{turn}
}

func (g *granter) resign() error {
	if err := g.m.Game.Resign(g.m.Side.Other()); err != nil {
		return nil // it has just ended
	}
	return &redirect{g.sheet.ending()}
}

// considerDraw agrees to a draw unless the machine stands better.
func (g *granter) considerDraw(ctx context.Context) error {
	if err := g.d.Record(ctx, journal.Record{State: g.d.State, What: journal.DrawOffered}); err != nil {
		return err
	}
	cp, err := g.Player.Weigh(ctx, g.m.Game)
	if err == nil && cp <= drawLimit && g.m.Game.AgreeDraw() == nil {
		return &redirect{g.sheet.ending()}
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err := g.d.Record(ctx, journal.Record{State: g.d.State, What: journal.DrawRefused}); err != nil {
		return err
	}
	return g.d.Say(ctx, "Thank you, but I would like to play on.")
}

// named makes the move that a person says was played; zero: nothing was.
func (g *granter) named(ctx context.Context, m chess.Move) error {
	pos := g.m.Game.Position()
	if g.m.IsMachinesTurn() || m != 0 && !pos.Legal(m) {
		return g.d.Say(ctx, fmt.Sprintf("%s is not a move that can be played here.", m))
	}
	if m == 0 {
		g.Eye.Learner.Agree(pos)
		return &redirect{journal.Turn{To: journal.Guesting, Rec: journal.Record{What: journal.NothingPlayed, By: journal.ByGuest}}}
	}
	if err := g.Eye.Follower.Resolve(m); err != nil {
		return err
	}
	if err := g.sheet.finish(ctx, journal.Record{Move: m, What: journal.GuestNamed, Belief: 1}); err != nil {
		return err
	}
	return &redirect{g.sheet.next()}
}

// agreed takes a position for what stands on the board. Where the rules lead
// there in one or two plies, these are the game's; else the game goes on from
// that position.
func (g *granter) agreed(ctx context.Context, fen string) error {
	want, err := chess.ParseFEN(fen)
	if err != nil {
		return err
	}
	pos := g.m.Game.Position()
	moves, ok := model.Reaching(pos, want)
	if !ok {
		return g.restart(want)
	}
	g.Eye.Learner.Agree(want)
	if len(moves) == 0 {
		return &redirect{g.sheet.turnTo(journal.Record{What: journal.Agreed, FEN: fen})}
	}
	for _, m := range moves {
		if err := g.sheet.finish(ctx, journal.Record{Move: m, What: journal.GuestNamed, Belief: 1}); err != nil {
			return err
		}
	}
	return &redirect{g.sheet.next()}
}

// restart lets the game go on from a position that was agreed.
func (g *granter) restart(pos chess.Position) error {
	g.Eye.Learner.Agree(pos)
	*g.m.Game = *chess.NewGame(pos)
	g.m.Decided, g.spent.tries = 0, 0
	g.m.Agree(pos)
	g.d.CountPlies()
	return &redirect{g.sheet.turnTo(journal.Record{What: journal.Agreed, FEN: pos.FEN()})}
}
