// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"slices"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
)

// verifying looks whether the machine's move stands on the board. What slipped
// or stayed is brought once more, what has no part in it is looked at again;
// then the guest is asked. Only a picture that leaves nothing unexplained, or
// a person's word, makes the move part of the game.
func (t *Table) verifying(ctx context.Context) (Turn, error) {
	t.p.Eye.Follower.Expect(t.m.Decided) // after a break it may not know
	if err := t.settleWay(ctx); err != nil {
		return Turn{}, err
	}
	var told Insistence
	for {
		r, err := t.v.settled(ctx)
		if errors.Is(err, errRight) {
			t.p.Eye.Learner.Agree(t.m.After())
			return t.moveStands(ctx, Record{What: MachineMoved, Belief: 1}, false)
		}
		if err != nil {
			return Turn{}, err
		}
		switch {
		case r.State == sight.Moved && r.Move == t.m.Decided, t.isBelieved(r):
			return t.arrived(ctx, r)
		case t.isAnswered(r):
			return t.moveStands(ctx, Record{What: MachineMoved, Belief: r.Belief}, true)
		}
		if t.tries < mends {
			t.tries++
			turn, done, err := t.again(ctx, r)
			if done || err != nil {
				return turn, err
			}
			if t.tries < mends {
				continue
			}
		}
		if !told.isDue(r) {
			continue
		}
		if r.State == sight.Same {
			t.stayedBehind()
		}
		t.s.Suspects.forget() // what stands there from now on a person may have moved
		if err := t.askMend(ctx, r); err != nil {
			return Turn{}, err
		}
	}
}

// likelier is the belief from which a move is likelier than everything else
// together, pieces that slipped on the way included.
const likelier = 0.5

// isBelieved says whether a doubtful picture is still the machine's own move:
// it is the likeliest explanation, and each square by itself, and the strip
// beside the board, bears it out.
func (t *Table) isBelieved(r sight.Reading) bool {
	return r.State == sight.Unsure && len(r.Candidates) > 0 && r.Candidates[0].Move == t.m.Decided &&
		r.Candidates[0].Belief > likelier && t.v.proves(BoardOf(t.m.After()))
}

// isAnswered says whether the guest has moved already: the machine's move and
// one of the guest's together explain what no single move explains.
func (t *Table) isAnswered(r sight.Reading) bool {
	if r.State != sight.Illegal && r.State != sight.Unsure {
		return false
	}
	o := t.v.evidence()
	if !o.isOpen() {
		return false
	}
	moves, lead := o.explained(t.m.Game.Position())
	return len(moves) == 2 && moves[0] == t.m.Decided && lead > clearly && len(o.differing(BoardOf(t.m.AfterAll(moves)))) == 0
}

// again tries to bring what did not arrive: everything once more if nothing
// came along, a piece that slipped from where it lies, or what is left of the
// move. It says false when nothing can be done by the machine.
func (t *Table) again(ctx context.Context, r sight.Reading) (Turn, bool, error) {
	if r.State == sight.Same {
		return t.onceMore()
	}
	err := t.fetch(ctx)
	switch {
	case err == nil:
		return Turn{Verifying, Record{What: Carried}}, false, nil
	case !errors.Is(err, errNoPiece):
		return Turn{}, false, err
	}
	return t.remainder(ctx)
}

// onceMore carries a piece again that did not come along, unless that is
// known to be useless.
func (t *Table) onceMore() (Turn, bool, error) {
	piece, from := t.stayedBehind()
	if t.s.Suspects.isUseless(t.m.Names.Of(from)) {
		return Turn{}, false, nil
	}
	return Turn{Carrying, Record{What: NotFollowed, Piece: piece}}, true, nil
}

// stayedBehind notes that the piece of the machine's move did not come along.
func (t *Table) stayedBehind() (chess.Piece, Place) {
	piece, from := t.m.StayedBehind()
	t.s.Suspects.look(t.m, t.m.Measured())
	return piece, from
}

// remainder plans what is left of the decided move, for the pieces as single
// squares show them.
func (t *Table) remainder(ctx context.Context) (Turn, bool, error) {
	pos, after := t.m.Game.Position(), t.m.After()
	board, ok := t.v.evidence().between(BoardOf(pos), BoardOf(after), touched(pos, t.m.Decided))
	if !ok {
		return Turn{}, false, nil
	}
	was := t.m.Now.Board
	t.m.Now.Board = board
	scene := t.c.scene()
	plan, err := t.p.Planner.Mender.Resume(ctx, scene, t.m.Game.Position(), t.m.Decided)
	if err != nil || len(plan.Steps) == 0 {
		t.m.Now.Board = was
		return Turn{}, false, ctx.Err()
	}
	if err := t.d.record(ctx, Record{State: t.d.state, What: Replanned, JPEG: t.v.shown.JPEG}); err != nil {
		return Turn{}, false, err
	}
	return Turn{}, false, t.run(ctx, scene, plan)
}

// arrived adjusts the piece if need be and finishes the move.
func (t *Table) arrived(ctx context.Context, r sight.Reading) (Turn, error) {
	t.s.Suspects.look(t.m, t.m.Measured())
	if t.m.IsOffCentre(t.m.Decided.To()) && t.tries < mends {
		t.tries++
		t.m.RenameByHand(t.m.Decided)
		t.m.Now.Board = BoardOf(t.m.After())
		scene := t.c.scene()
		plan, err := t.straighten(ctx, scene, t.m.Decided.To())
		if err == nil && plan.Asks() == 0 { // a hand is not asked for so little
			if err := t.run(ctx, scene, plan); err != nil {
				return Turn{}, err
			}
			pos := t.m.Game.Position()
			return Turn{Verifying, Record{What: Adjusted, Piece: pos.At(t.m.Decided.From())}}, nil
		}
	}
	return t.moveStands(ctx, Record{What: MachineMoved, Belief: r.Belief}, true)
}

// moveStands makes the machine's move part of the game; the eye makes it too
// where it was read from a picture.
func (t *Table) moveStands(ctx context.Context, r Record, read bool) (Turn, error) {
	r.Move = t.m.Decided
	if read {
		if err := t.p.Eye.Follower.Accept(r.Move); err != nil {
			return Turn{}, err
		}
	}
	if err := t.finish(ctx, r); err != nil {
		return Turn{}, err
	}
	if err := t.suspect(ctx); err != nil {
		return Turn{}, err
	}
	return t.next(), nil
}

// straighten plans to bring the piece on a square to its centre.
func (t *Table) straighten(ctx context.Context, sc carry.Scene, q chess.Square) (carry.Plan, error) {
	for i, m := range sc.Pieces {
		if m.Square == q {
			return t.p.Planner.Mender.Straighten(ctx, sc, i, q)
		}
	}
	return carry.Plan{}, errNoPiece
}

// fetch goes to a piece that slipped on the way and brings it to its square.
func (t *Table) fetch(ctx context.Context) error {
	pos := t.m.Game.Position()
	var gone []chess.Square
	board := BoardOf(pos)
	if victim, at := pos.Captured(t.m.Decided); victim != chess.NoPiece { // it was taken off before
		gone = append(gone, at)
		board[at] = chess.NoPiece
	}
	stray, seen := t.p.Eye.Witness.Seek(t.m.Decided.From(), gone)
	if !seen {
		return errNoPiece
	}
	w := t.m.Slipped()
	t.s.Suspects.slipped(t.m, w, stray)
	t.m.Now.Board = board
	if t.s.Suspects.isUseless(t.m.Names.Of(w.From)) {
		return errNoPiece
	}
	sc := t.c.scene()
	i := slices.IndexFunc(sc.Pieces, func(m carry.Piece) bool { return m.Square == t.m.Decided.From() })
	if i < 0 {
		return errNoPiece
	}
	sc.Pieces[i].At, sc.Pieces[i].Sigma, sc.Pieces[i].Square = stray.At, stray.Sigma, chess.NoSquare
	plan, err := t.p.Planner.Mender.Straighten(ctx, sc, i, t.m.Decided.To())
	if err != nil {
		return errNoPiece
	}
	if err := t.d.record(ctx, Record{State: Verifying, What: Fetched, Piece: pos.At(t.m.Decided.From()), JPEG: t.v.shown.JPEG}); err != nil {
		return err
	}
	return t.run(ctx, sc, plan)
}

// askMend asks the guest to set the board as it should be after the move.
func (t *Table) askMend(ctx context.Context, r sight.Reading) error {
	after := t.m.After()
	pos := t.m.Game.Position()
	n := notice.Notice{Kind: notice.PleaseMend, Move: t.m.Decided, Squares: r.Squares, FEN: after.FEN(),
		Text: FinishOwnMove(pos, t.m.Decided)}
	if o := t.v.evidence(); o.isOpen() {
		n.Squares = o.differing(BoardOf(after))
		switch of := touched(pos, t.m.Decided); {
		case len(n.Squares) == 0:
		case covers(of, n.Squares):
			n.Text += " Look at " + list(n.Squares) + "."
		default: // more is amiss than the move
			n.Text = "Please set the board as the plan shows: look at " + list(n.Squares) + "."
		}
	}
	if err := t.d.record(ctx, Record{State: Verifying, What: Requested, Said: n.Text, Squares: n.Squares, JPEG: t.v.shown.JPEG}); err != nil {
		return err
	}
	return t.d.tell(ctx, n)
}

// suspect tells the maker which part to look at, as soon as that is clear.
func (t *Table) suspect(ctx context.Context) error {
	for _, f := range t.s.Suspects.news() {
		t.d.Observe(Event{Suspicion: f.Sentence})
		if err := t.d.record(ctx, Record{State: t.d.state, What: Suspected, Cause: string(f.Cause), Origin: f.Piece, Axis: f.Axis, Said: f.Sentence}); err != nil {
			return err
		}
	}
	return nil
}

var errNoPiece = errors.New("the piece was not seen")
