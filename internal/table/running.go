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
	"boardhand/internal/sight"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/table/view"
)

// executor carries out plans, step by step.
type executor struct {
	*kit
	exam    *examiner
	ask     *asker
	carrier *carrier
}

// run carries out a plan, made for a scene, step by step. Each piece that was
// carried is looked for when it has been let go, except the last one of a game
// move, which verifying sees. After a piece was adjusted, what is left is
// planned anew for the pieces as they are seen now.
func (x *executor) run(ctx context.Context, scene plan.Scene, plan plan.Plan) error {
	x.d.Observe(desk.Event{Plan: &plan, Scene: &scene})
	x.d.Believe()
	x.exam.stood = x.v.Standing(x.exam.bystandersOf(plan))
	x.Suspects.Begin(x.m, x.exam.sightings(x.exam.stood))
	for i, s := range plan.Steps {
		left := plan.Steps[i+1:]
		if err := x.step(ctx, s, left); err != nil {
			return fmt.Errorf("step %d of %d (%s): %w", i+1, len(plan.Steps), s.Do, err)
		}
		if straightens(s) && len(left) > 0 && x.spent.replans < mostReplans {
			return x.replan(ctx, left)
		}
	}
	return nil
}

// straightens says whether a step has a piece set straight in its square.
func straightens(s plan.Step) bool {
	return s.Do == plan.Ask && len(s.Acts) == 0 && s.From == s.To && s.From < chess.NoSquare
}

// replan plans what is left anew and carries it out.
func (x *executor) replan(ctx context.Context, steps []plan.Step) error {
	x.spent.replans++
	scene := x.c.Scene()
	plan, err := x.rest(ctx, scene, steps)
	if err != nil {
		return fmt.Errorf("no way was found after a piece was set straight: %w", err)
	}
	if err := x.d.Record(ctx, journal.Record{State: x.d.State, What: journal.Replanned, JPEG: x.v.Shown.JPEG}); err != nil {
		return err
	}
	return x.run(ctx, scene, plan)
}

func (x *executor) rest(ctx context.Context, scene plan.Scene, steps []plan.Step) (plan.Plan, error) {
	if x.m.Decided != 0 {
		return x.Planner.Mender.Resume(ctx, scene, x.m.Game.Position(), x.m.Decided)
	}
	return x.Planner.Mender.Rest(ctx, scene, steps)
}

// step does one step of a plan; left are those after it.
func (x *executor) step(ctx context.Context, s plan.Step, left []plan.Step) error {
	if x.d.IsHalted() {
		return desk.ErrHalted
	}
	x.d.Observe(desk.Event{Step: &s})
	switch s.Do {
	case plan.Carry:
		return x.carry(ctx, s, left)
	case plan.Release:
		if err := x.c.Drive(ctx, s); err != nil || x.m.Now.Way == nil {
			return err
		}
		if x.m.Decided != 0 && !carriesMore(left) && x.m.Now.Way.To >= 0 && x.m.Now.Way.To < places.Slot {
			w := *x.m.Now.Way // verifying looks
			x.m.Move(w.Piece, w.From, w.To)
			x.m.Now.Way = nil
			return nil
		}
		return x.carrier.confirmCarry(ctx, *x.m.Now.Way)
	case plan.Ask:
		for _, a := range s.Single() {
			x.byHand(a)
		}
		x.d.Promise()
		return x.askStep(ctx, s, len(left) == 0)
	}
	return x.c.Drive(ctx, s)
}

// carriesMore says whether any step carries a piece or asks for one.
func carriesMore(steps []plan.Step) bool {
	return slices.ContainsFunc(steps, func(s plan.Step) bool { return s.Do == plan.Carry || s.Do == plan.Ask })
}

// carry drags a piece. That it is on its way is on disk before it moves,
// except for the last carry of a game move, which can be read off the board
// after a break.
func (x *executor) carry(ctx context.Context, s plan.Step, left []plan.Step) error {
	w := x.m.Way(s)
	x.m.Now.Way = &w
	if x.m.Decided == 0 || carriesMore(left) || w.From >= places.Slot || w.To >= places.Slot || w.To < 0 {
		if err := x.d.Record(ctx, journal.Record{State: x.d.State, What: journal.CarryBegun, Piece: w.Piece, From: w.From, To: w.To}); err != nil {
			return err
		}
	}
	return x.c.Drive(ctx, s)
}

// byHand follows what a person does with one piece.
func (x *executor) byHand(a plan.Step) {
	if a.From < chess.NoSquare {
		x.Suspects.Handed(x.m, a.Piece, places.Place(a.From))
	}
	x.m.ByHand(a)
}

// askStep tells the guest what to do and waits until the picture shows it, or
// a person says that it is done.
func (x *executor) askStep(ctx context.Context, s plan.Step, last bool) error {
	working := x.d.State
	n := x.askNotice(s, last)
	if err := x.ask.request(ctx, n, journal.Record{What: journal.Requested, Said: s.Text, Piece: s.Piece}); err != nil {
		return err
	}
	if last && x.goal != nil { // the goal is waited for anyway
		x.d.State = working
		x.d.Offer()
		return nil
	}
	if err := x.awaitDone(ctx, s, n, last); err != nil {
		return err
	}
	x.d.Believe()
	if err := x.enter(ctx, journal.TurnTo(working, journal.RequestDone)); err != nil {
		return err
	}
	if working != journal.Carrying {
		return nil
	}
	return x.d.Say(ctx, "Thank you. "+x.carryingSentence())
}

// awaitDone waits until what was asked for is seen; it tells what else differs,
// once for each sight.
func (x *executor) awaitDone(ctx context.Context, s plan.Step, n notice.Notice, last bool) error {
	var said view.Insistence
	said.IsDue(sight.Reading{}) // it has just been said
	for {
		r, err := x.v.Settled(ctx)
		if errors.Is(err, desk.ErrRight) {
			return nil
		}
		if err != nil {
			return err
		}
		if x.shows(r, s, last) {
			return nil
		}
		if !said.IsDue(r) {
			continue
		}
		n.Text = s.Text
		switch {
		case len(r.Squares) > 0:
			n.Text = fmt.Sprintf("%s I see a change on %s.", s.Text, places.List(r.Squares))
		case !x.isPlain(s) && (!last || x.m.Decided == 0):
			n.Text += " I cannot tell the two apart: say that it is right as it stands when it is done."
		}
		if err := x.d.Tell(ctx, n); err != nil {
			return err
		}
	}
}

func (x *executor) askNotice(s plan.Step, last bool) notice.Notice {
	n := notice.Notice{Kind: notice.PleasePut, Text: s.Text, Piece: s.Piece, Squares: []chess.Square{s.To}, Move: x.m.Decided}
	for _, a := range s.Single() {
		n.Acts = append(n.Acts, notice.Act{Piece: a.Piece, From: a.From, To: a.To})
	}
	switch {
	case len(s.Acts) > 0 || s.From < chess.NoSquare && s.To < chess.NoSquare && s.From != s.To:
		n.Kind, n.FEN, n.Squares = notice.PleaseMend, x.m.BoardFEN(), nil
	case s.To == chess.NoSquare:
		n.Kind, n.Squares = notice.PleaseTake, []chess.Square{s.From}
	case s.From == s.To:
		n.Kind, n.FEN = notice.PleaseMend, x.m.BoardFEN()
	}
	if last && x.m.Decided != 0 && n.Kind != notice.PleaseTake && s.From != s.To {
		after := x.m.After()
		n.FEN = after.FEN()
	}
	return n
}

// shows says whether the last picture shows what was asked for. The last step
// of a move must show the move itself: a pawn still to be exchanged changes the
// same squares as the queen that replaces it. Before that it is enough that the
// squares asked about look right by themselves.
func (x *executor) shows(r sight.Reading, s plan.Step, last bool) bool {
	switch {
	case len(s.Acts) == 0 && s.From == s.To:
		return x.m.IsCentred(s.To)
	case last && x.m.Decided != 0:
		return r.State == sight.Moved && r.Move == x.m.Decided || x.isBelieved(r)
	}
	want := x.m.Differing()
	if len(want) == len(r.Squares) && places.Covers(want, r.Squares) || len(want) == 0 && r.State == sight.Same {
		return true
	}
	o := x.v.Evidence()
	return o.IsOpen() && len(o.Differing(x.m.Now.Board)) == 0 && x.isPlain(s)
}

// isPlain says whether all that a step asks for can be told from which side
// stands on which square: no piece is exchanged for another of its side.
func (x *executor) isPlain(s plan.Step) bool {
	pos := x.m.Game.Position()
	for _, a := range s.Single() {
		if a.To < chess.NoSquare && a.From >= chess.NoSquare && pos.At(a.To) != chess.NoPiece && pos.At(a.To).Color() == a.Piece.Color() {
			return false
		}
	}
	return true
}
