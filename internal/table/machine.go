// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/table/wording"
)

// thinking has the player choose; the choice is on disk before anything moves.
func (t *Table) thinking(ctx context.Context) (journal.Turn, error) {
	if t.m.Decided != 0 { // before the break
		pos := t.m.Game.Position()
		return journal.Turn{To: journal.Carrying, Rec: journal.Record{What: journal.Chosen, Decided: t.m.Decided, SAN: pos.SAN(t.m.Decided)}}, nil
	}
	if err := t.d.Say(ctx, "I am thinking."); err != nil {
		return journal.Turn{}, err
	}
	m, err := t.choose(ctx)
	if err != nil {
		return journal.Turn{}, err
	}
	pos := t.m.Game.Position()
	if !pos.Legal(m) {
		return journal.Turn{}, &partError{partPlayer, fmt.Errorf("the player chose %s, which is not legal here", m)}
	}
	t.m.Decided = m
	return journal.Turn{To: journal.Carrying, Rec: journal.Record{What: journal.Chosen, Decided: m, SAN: pos.SAN(m)}}, nil
}

// choose has the player choose; it is called off when a person stops the
// machine or asks for something else.
func (t *Table) choose(ctx context.Context) (chess.Move, error) {
	for {
		var m chess.Move
		err := t.d.While(ctx, func(ctx context.Context) (err error) {
			m, err = t.p.Player.Choose(ctx, t.m.Game)
			return err
		})
		if err := t.d.ChangedPlayer(ctx); err != nil {
			return 0, err
		}
		switch {
		case err == nil:
			return m, nil
		case !errors.Is(err, desk.ErrRoused):
			return 0, &partError{partPlayer, err}
		case t.d.IsHalted():
			return 0, desk.ErrHalted
		}
		if err := t.d.Attend(ctx); err != nil && !errors.Is(err, desk.ErrRight) {
			return 0, err
		}
	}
}

// carryingSentence says what the machine is about to do.
func (t *Table) carryingSentence() string {
	switch {
	case t.m.Decided != 0:
		return fmt.Sprintf("I play %s. Hands off, please.", wording.MoveWords(t.m.Game.Position(), t.m.Decided))
	case t.Task().Kind == journal.SetUp:
		return "I set the pieces up for the next game. Hands off, please."
	}
	return "I take it back. Hands off, please."
}

// carrying plans the move for the pieces as they stand and carries it out.
func (t *Table) carrying(ctx context.Context) (journal.Turn, error) {
	pos := t.m.Game.Position()
	if err := t.d.Tell(ctx, notice.Notice{Kind: notice.Wait, Move: t.m.Decided, Text: t.carryingSentence()}); err != nil {
		return journal.Turn{}, err
	}
	t.m.Now.Board, t.m.Now.Way, t.job.goal = places.BoardOf(pos), nil, nil
	t.p.Eye.Follower.Expect(t.m.Decided)
	scene := t.c.Scene()
	plan, err := t.p.Planner.Drafter.Move(ctx, scene, pos, t.m.Decided)
	if err != nil {
		return journal.Turn{}, &partError{partPlanner, fmt.Errorf("no way was found for %s: %w", pos.SAN(t.m.Decided), err)}
	}
	if err := t.run(ctx, scene, plan); err != nil {
		return journal.Turn{}, err
	}
	return journal.TurnTo(journal.Verifying, journal.Carried), nil
}

// run carries out a plan, made for a scene, step by step. Each piece that was
// carried is looked for when it has been let go, except the last one of a game
// move, which verifying sees. After a piece was adjusted, what is left is
// planned anew for the pieces as they are seen now.
func (t *Table) run(ctx context.Context, scene plan.Scene, plan plan.Plan) error {
	t.d.Observe(desk.Event{Plan: &plan, Scene: &scene})
	t.d.Believe()
	t.s.Suspects.Begin(t.m)
	for i, s := range plan.Steps {
		left := plan.Steps[i+1:]
		if err := t.step(ctx, s, left); err != nil {
			return fmt.Errorf("step %d of %d (%s): %w", i+1, len(plan.Steps), s.Do, err)
		}
		if straightens(s) && len(left) > 0 && t.replans < mostReplans {
			return t.replan(ctx, left)
		}
	}
	return nil
}

// straightens says whether a step has a piece set straight in its square.
func straightens(s plan.Step) bool {
	return s.Do == plan.Ask && len(s.Acts) == 0 && s.From == s.To && s.From < chess.NoSquare
}

// replan plans what is left anew and carries it out.
func (t *Table) replan(ctx context.Context, steps []plan.Step) error {
	t.replans++
	scene := t.c.Scene()
	plan, err := t.rest(ctx, scene, steps)
	if err != nil {
		return fmt.Errorf("no way was found after a piece was set straight: %w", err)
	}
	if err := t.d.Record(ctx, journal.Record{State: t.d.State, What: journal.Replanned, JPEG: t.v.Shown.JPEG}); err != nil {
		return err
	}
	return t.run(ctx, scene, plan)
}

func (t *Table) rest(ctx context.Context, scene plan.Scene, steps []plan.Step) (plan.Plan, error) {
	if t.m.Decided != 0 {
		return t.p.Planner.Mender.Resume(ctx, scene, t.m.Game.Position(), t.m.Decided)
	}
	return t.p.Planner.Mender.Rest(ctx, scene, steps)
}

// step does one step of a plan; left are those after it.
func (t *Table) step(ctx context.Context, s plan.Step, left []plan.Step) error {
	if t.d.IsHalted() {
		return desk.ErrHalted
	}
	t.d.Observe(desk.Event{Step: &s})
	switch s.Do {
	case plan.Carry:
		return t.carry(ctx, s, left)
	case plan.Release:
		if err := t.c.Drive(ctx, s); err != nil || t.m.Now.Way == nil {
			return err
		}
		if t.m.Decided != 0 && !carriesMore(left) && t.m.Now.Way.To >= 0 && t.m.Now.Way.To < places.Slot {
			w := *t.m.Now.Way // verifying looks
			t.m.Move(w.Piece, w.From, w.To)
			t.m.Now.Way = nil
			return nil
		}
		return t.confirmCarry(ctx, *t.m.Now.Way)
	case plan.Ask:
		for _, a := range s.Single() {
			t.byHand(a)
		}
		t.d.Promise()
		return t.askStep(ctx, s, len(left) == 0)
	}
	return t.c.Drive(ctx, s)
}

// carriesMore says whether any step carries a piece or asks for one.
func carriesMore(steps []plan.Step) bool {
	return slices.ContainsFunc(steps, func(s plan.Step) bool { return s.Do == plan.Carry || s.Do == plan.Ask })
}

// carry drags a piece. That it is on its way is on disk before it moves,
// except for the last carry of a game move, which can be read off the board
// after a break.
func (t *Table) carry(ctx context.Context, s plan.Step, left []plan.Step) error {
	w := t.m.Way(s)
	t.m.Now.Way = &w
	if t.m.Decided == 0 || carriesMore(left) || w.From >= places.Slot || w.To >= places.Slot || w.To < 0 {
		if err := t.d.Record(ctx, journal.Record{State: t.d.State, What: journal.CarryBegun, Piece: w.Piece, From: w.From, To: w.To}); err != nil {
			return err
		}
	}
	return t.c.Drive(ctx, s)
}
