// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"fmt"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
)

// machineTurn is the machine's move: chosen, and carried out.
type machineTurn struct {
	*kit
	exec *executor
}

// thinking has the player choose; the choice is on disk before anything moves.
func (mt *machineTurn) thinking(ctx context.Context) (journal.Turn, error) {
	if mt.m.Decided != 0 { // before the break
		pos := mt.m.Game.Position()
		return journal.Turn{To: journal.Carrying, Rec: journal.Record{What: journal.Chosen, Decided: mt.m.Decided, SAN: pos.SAN(mt.m.Decided)}}, nil
	}
	if err := mt.d.Say(ctx, "I am thinking."); err != nil {
		return journal.Turn{}, err
	}
	m, err := mt.choose(ctx)
	if err != nil {
		return journal.Turn{}, err
	}
	pos := mt.m.Game.Position()
	if !pos.Legal(m) {
		return journal.Turn{}, journal.InPart(journal.PartPlayer, fmt.Errorf("the player chose %s, which is not legal here", m))
	}
	mt.m.Decided = m
	return journal.Turn{To: journal.Carrying, Rec: journal.Record{What: journal.Chosen, Decided: m, SAN: pos.SAN(m)}}, nil
}

// choose has the player choose; it is called off when a person stops the
// machine or asks for something else.
func (mt *machineTurn) choose(ctx context.Context) (chess.Move, error) {
	for {
		var m chess.Move
		err := mt.d.While(ctx, func(ctx context.Context) (err error) {
			m, err = mt.Player.Choose(ctx, mt.m.Game)
			return err
		})
		if err := mt.d.ChangedPlayer(ctx); err != nil {
			return 0, err
		}
		switch {
		case err == nil:
			return m, nil
		case !errors.Is(err, desk.ErrRoused):
			return 0, journal.InPart(journal.PartPlayer, err)
		case mt.d.IsHalted():
			return 0, desk.ErrHalted
		}
		if err := mt.d.Attend(ctx); err != nil && !errors.Is(err, desk.ErrRight) {
			return 0, err
		}
	}
}

// carrying plans the move for the pieces as they stand and carries it out.
func (mt *machineTurn) carrying(ctx context.Context) (journal.Turn, error) {
	pos := mt.m.Game.Position()
	if err := mt.d.Tell(ctx, notice.Notice{Kind: notice.Wait, Move: mt.m.Decided, Text: mt.carryingSentence()}); err != nil {
		return journal.Turn{}, err
	}
	mt.m.Now.Board, mt.m.Now.Way, mt.goal = places.BoardOf(pos), nil, nil
	mt.Eye.Follower.Expect(mt.m.Decided)
	scene := mt.c.Scene()
	plan, err := mt.Planner.Drafter.Move(ctx, scene, pos, mt.m.Decided)
	if err != nil {
		return journal.Turn{}, journal.InPart(journal.PartPlanner, fmt.Errorf("no way was found for %s: %w", pos.SAN(mt.m.Decided), err))
	}
	if err := mt.exec.run(ctx, scene, plan); err != nil {
		return journal.Turn{}, err
	}
	return journal.TurnTo(journal.Verifying, journal.Carried), nil
}
