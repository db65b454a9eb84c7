// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
)

// thinking has the player choose; the choice is on disk before anything moves.
func (t *Table) thinking(ctx context.Context) (Turn, error) {
	if t.decided != 0 { // before the break
		pos := t.game.Position()
		return Turn{Carrying, Record{What: Chosen, Decided: t.decided, SAN: pos.SAN(t.decided)}}, nil
	}
	if err := t.tell(ctx, notice.Notice{Kind: notice.Wait, Text: "I am thinking."}); err != nil {
		return Turn{}, err
	}
	m, err := t.choose(ctx)
	if err != nil {
		return Turn{}, err
	}
	pos := t.game.Position()
	if !pos.Legal(m) {
		return Turn{}, &partError{partPlayer, fmt.Errorf("the player chose %s, which is not legal here", m)}
	}
	t.decided = m
	return Turn{Carrying, Record{What: Chosen, Decided: m, SAN: pos.SAN(m)}}, nil
}

// choose has the player choose; it is called off when a person stops the
// machine or asks for something else.
func (t *Table) choose(ctx context.Context) (chess.Move, error) {
	for {
		var m chess.Move
		err := t.while(ctx, func(ctx context.Context) (err error) {
			m, err = t.p.Player.Choose(ctx, t.game)
			return err
		})
		if err := t.changedPlayer(ctx); err != nil {
			return 0, err
		}
		switch {
		case err == nil:
			return m, nil
		case !errors.Is(err, errRoused):
			return 0, &partError{partPlayer, err}
		case t.isHalted():
			return 0, errHalted
		}
		if err := t.attend(ctx); err != nil && !errors.Is(err, errRight) {
			return 0, err
		}
	}
}

// ChangePlayer tells the table, from any goroutine, that another program
// chooses the machine's moves now; said is for the people at the table.
func (t *Table) ChangePlayer(said string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.players = append(t.players, said)
}

// changedPlayer records and tells what ChangePlayer was told.
func (t *Table) changedPlayer(ctx context.Context) error {
	t.mu.Lock()
	changes := t.players
	t.players = nil
	t.mu.Unlock()
	for _, said := range changes {
		if err := t.record(ctx, Record{State: t.state, What: PlayerChanged, Said: said}); err != nil {
			return err
		}
		if err := t.tell(ctx, notice.Notice{Kind: notice.Wait, Text: said}); err != nil {
			return err
		}
	}
	return nil
}

// carryingSentence says what the machine is about to do.
func (t *Table) carryingSentence() string {
	switch {
	case t.decided != 0:
		return fmt.Sprintf("I play %s. Hands off, please.", moveWords(t.game.Position(), t.decided))
	case t.Task().Kind == SetUp:
		return "I set the pieces up for the next game. Hands off, please."
	}
	return "I take it back. Hands off, please."
}

// carrying plans the move for the pieces as they stand and carries it out.
func (t *Table) carrying(ctx context.Context) (Turn, error) {
	pos := t.game.Position()
	if err := t.tell(ctx, notice.Notice{Kind: notice.Wait, Move: t.decided, Text: t.carryingSentence()}); err != nil {
		return Turn{}, err
	}
	t.now.Board, t.now.Way, t.goal = standing(pos), nil, nil
	t.p.Eye.Expect(t.decided)
	scene := t.scene()
	plan, err := t.p.Planner.Move(ctx, scene, pos, t.decided)
	if err != nil {
		return Turn{}, &partError{partPlanner, fmt.Errorf("no way was found for %s: %w", pos.SAN(t.decided), err)}
	}
	if err := t.run(ctx, scene, plan); err != nil {
		return Turn{}, err
	}
	return to(Verifying, Carried), nil
}

// mostReplans is how often one move is planned anew because a piece was set
// straight: a guest who cannot get it straight is asked to make the move.
const mostReplans = 3

// run carries out a plan, made for a scene, step by step. Each piece that was
// carried is looked for when it has been let go, except the last one of a game
// move, which verifying sees. After a piece was adjusted, what is left is
// planned anew for the pieces as they are seen now.
func (t *Table) run(ctx context.Context, scene carry.Scene, plan carry.Plan) error {
	t.observe(Event{Plan: &plan, Scene: &scene})
	t.asking = false
	t.s.Suspects.begin(t)
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
func straightens(s carry.Step) bool {
	return s.Do == carry.Ask && len(s.Acts) == 0 && s.From == s.To && s.From < chess.NoSquare
}

// replan plans what is left anew and carries it out.
func (t *Table) replan(ctx context.Context, steps []carry.Step) error {
	t.replans++
	scene := t.scene()
	plan, err := t.rest(ctx, scene, steps)
	if err != nil {
		return fmt.Errorf("no way was found after a piece was set straight: %w", err)
	}
	if err := t.record(ctx, Record{State: t.state, What: Replanned, JPEG: t.shown.JPEG}); err != nil {
		return err
	}
	return t.run(ctx, scene, plan)
}

func (t *Table) rest(ctx context.Context, scene carry.Scene, steps []carry.Step) (carry.Plan, error) {
	if t.decided != 0 {
		return t.p.Planner.Resume(ctx, scene, t.game.Position(), t.decided)
	}
	return t.p.Planner.Rest(ctx, scene, steps)
}

// step does one step of a plan; left are those after it.
func (t *Table) step(ctx context.Context, s carry.Step, left []carry.Step) error {
	if t.isHalted() {
		return errHalted
	}
	t.observe(Event{Step: &s})
	switch s.Do {
	case carry.Carry:
		return t.carry(ctx, s, left)
	case carry.Release:
		if err := t.drive(ctx, s); err != nil || t.now.Way == nil {
			return err
		}
		if t.decided != 0 && !carriesMore(left) && t.now.Way.To >= 0 && t.now.Way.To < Slot {
			w := *t.now.Way // verifying looks
			t.move(w.Piece, w.From, w.To)
			t.now.Way = nil
			return nil
		}
		return t.confirmCarry(ctx, *t.now.Way)
	case carry.Ask:
		for _, a := range s.Single() {
			t.byHand(a)
		}
		t.asking = true
		return t.askStep(ctx, s, len(left) == 0)
	}
	return t.drive(ctx, s)
}

// carriesMore says whether any step carries a piece or asks for one.
func carriesMore(steps []carry.Step) bool {
	return slices.ContainsFunc(steps, func(s carry.Step) bool { return s.Do == carry.Carry || s.Do == carry.Ask })
}

// drive has the gantry do a step that asks nobody.
func (t *Table) drive(ctx context.Context, s carry.Step) error {
	t.s.Suspects.note(t, s)
	switch s.Do {
	case carry.Travel, carry.Carry:
		return t.stroke(ctx, s)
	case carry.Grip, carry.Release:
		err := t.motion(ctx, func(ctx context.Context) error { return t.p.Gantry.Lift(ctx, s.Do == carry.Grip) })
		if err != nil {
			return err
		}
		t.raised = s.Do == carry.Grip
		t.showCarriage()
		return nil
	}
	return fmt.Errorf("unknown step %q", s.Do)
}

// stroke moves the carriage along a step's path. An axis that lagged and yet
// arrived is noted.
func (t *Table) stroke(ctx context.Context, s carry.Step) error {
	k := t.s.Gearing.Stroke(s)
	err := t.motion(ctx, func(ctx context.Context) error {
		at, err := t.p.Gantry.Move(ctx, k)
		t.carriage = at
		return err
	})
	t.showCarriage()
	return t.s.Suspects.drove(s, err)
}

// carry drags a piece. That it is on its way is on disk before it moves,
// except for the last carry of a game move, which can be read off the board
// after a break.
func (t *Table) carry(ctx context.Context, s carry.Step, left []carry.Step) error {
	w := t.way(s)
	t.now.Way = &w
	if t.decided == 0 || carriesMore(left) || w.From >= Slot || w.To >= Slot || w.To < 0 {
		if err := t.record(ctx, Record{State: t.state, What: CarryBegun, Piece: w.Piece, From: w.From, To: w.To}); err != nil {
			return err
		}
	}
	return t.drive(ctx, s)
}

// placeWords says a place as the page and the drawing name it.
func (t *Table) placeWords(p Place) string { return p.words(len(t.s.Slots)) }

// scene is everything on the board, at its measured place where known, and
// whoever stands in the tray.
func (t *Table) scene() carry.Scene {
	sc := carry.Scene{Carriage: t.s.Gearing.Carriage(t.carriage)}
	for q := chess.Square(0); q < chess.NoSquare; q++ {
		p := t.now.Board[q]
		if p == chess.NoPiece {
			continue
		}
		m := t.piece(p, q, t.centre(q))
		if o, ok := t.pieces[q]; ok {
			m.At, m.Sigma = m.At.Add(o.Delta), o.Sigma
		}
		sc.Pieces = append(sc.Pieces, m)
	}
	for _, b := range t.now.Beside {
		if k := int(b.Place - Slot); k >= 0 && k < len(t.s.Slots) {
			sc.Pieces = append(sc.Pieces, t.piece(b.Piece, chess.NoSquare, t.s.Slots[k]))
		}
	}
	return sc
}

func (t *Table) piece(p chess.Piece, q chess.Square, spot frame.Spot[frame.Board]) carry.Piece {
	at := t.placeOf(q, spot)
	return carry.Piece{Piece: p, Square: q, At: spot, Magnet: t.s.Carried[p.Color()] && !t.s.Suspects.isHopeless(t, p, at),
		Base: float64(t.s.Feet[p.Kind()]), Sigma: unmeasured * float64(t.s.Square)}
}

// unmeasured is the standard deviation, as a share of the square, of a piece
// that no picture has measured: people put pieces within a few hundredths of a
// square of the centre (common practice, no source).
const unmeasured = 0.05

// centre is the middle of a square, board frame.
func (t *Table) centre(q chess.Square) frame.Spot[frame.Board] {
	s := float64(t.s.Square)
	return frame.Spot[frame.Board]{X: (float64(q.File()) - 3.5) * s, Y: (float64(q.Rank()) - 3.5) * s}
}

// offCentre is how far from its square's centre, as a share of the square, an
// own piece may stand before it is set straight: half of what lanes are planned
// to cope with.
const offCentre = coped / 2

// astray says whether the piece on q stands too far from the centre, rather than
// not: setting one straight for nothing costs seconds.
func (t *Table) astray(q chess.Square) bool {
	o, ok := t.pieces[q]
	return ok && math.Hypot(o.Delta.X, o.Delta.Y)-o.Sigma > offCentre*float64(t.s.Square)
}

// straightEnough is how far off the centre, as a share of the square, a piece
// that was set straight by hand may stand: what careful hands do (4 %, common
// practice, no source), and half as much again.
const straightEnough = 0.06

// isStraight says whether the piece on q was measured and stands well.
func (t *Table) isStraight(q chess.Square) bool {
	o, ok := t.pieces[q]
	return ok && math.Hypot(o.Delta.X, o.Delta.Y) <= straightEnough*float64(t.s.Square)
}
