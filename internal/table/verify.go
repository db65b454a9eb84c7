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
	t.p.Eye.Expect(t.decided) // after a break it may not know
	if err := t.settleWay(ctx); err != nil {
		return Turn{}, err
	}
	var told insistence
	for {
		r, err := t.settled(ctx)
		if errors.Is(err, errRight) {
			t.p.Eye.Agree(t.after())
			return t.moveStands(ctx, Record{What: MachineMoved, Belief: 1}, false)
		}
		if err != nil {
			return Turn{}, err
		}
		switch {
		case r.State == sight.Moved && r.Move == t.decided, t.isBelieved(r):
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
		t.s.Suspects.disorder(t)
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
	return r.State == sight.Unsure && len(r.Candidates) > 0 && r.Candidates[0].Move == t.decided &&
		r.Candidates[0].Belief > likelier && t.proves(standing(t.after()))
}

// isAnswered says whether the guest has moved already: the machine's move and
// one of the guest's together explain what no single move explains.
func (t *Table) isAnswered(r sight.Reading) bool {
	if r.State != sight.Illegal && r.State != sight.Unsure {
		return false
	}
	o := t.occupied()
	if !o.open() {
		return false
	}
	moves, lead := o.explained(t.game.Position())
	return len(moves) == 2 && moves[0] == t.decided && lead > clearly && len(o.differing(standing(t.afterAll(moves)))) == 0
}

// afterAll is the position after some moves.
func (t *Table) afterAll(moves []chess.Move) chess.Position {
	pos := t.game.Position()
	for _, m := range moves {
		pos = pos.After(m)
	}
	return pos
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
	if t.s.Suspects.isHopeless(t, piece, from) {
		return Turn{}, false, nil
	}
	return Turn{Carrying, Record{What: NotFollowed, Piece: piece}}, true, nil
}

// stayedBehind notes that the piece of the machine's move did not come along.
func (t *Table) stayedBehind() (chess.Piece, Place) {
	pos := t.game.Position()
	from, to := Place(t.decided.From()), Place(t.decided.To())
	piece := pos.At(t.decided.From())
	if t.now.Board[to] == piece {
		t.move(piece, to, from)
	}
	t.now.Board = standing(pos)
	t.s.Suspects.look(t, t.measured())
	return piece, from
}

// remainder plans what is left of the decided move, for the pieces as single
// squares show them.
func (t *Table) remainder(ctx context.Context) (Turn, bool, error) {
	board, ok := t.between()
	if !ok {
		return Turn{}, false, nil
	}
	was := t.now.Board
	t.now.Board = board
	scene := t.scene()
	plan, err := t.p.Planner.Resume(ctx, scene, t.game.Position(), t.decided)
	if err != nil || len(plan.Steps) == 0 {
		t.now.Board = was
		return Turn{}, false, ctx.Err()
	}
	if err := t.record(ctx, Record{State: t.state, What: Replanned, JPEG: t.shown.JPEG}); err != nil {
		return Turn{}, false, err
	}
	return Turn{}, false, t.run(ctx, scene, plan)
}

// between is the board as single squares show it, where each square of the
// move is as before it or as after it; false when it is not so.
func (t *Table) between() ([64]chess.Piece, bool) {
	pos, next := t.game.Position(), t.after()
	before, after := standing(pos), standing(next)
	o := t.occupied()
	board := before
	for _, q := range touched(pos, t.decided) {
		if !o[q].Open {
			return board, false
		}
		if nats(o[q], after[q]) > nats(o[q], before[q]) {
			board[q] = after[q]
		}
	}
	for q := range board {
		if o[q].Open && nats(o[q], board[q]) < -leadNats {
			return board, false
		}
	}
	return board, board != before && board != after
}

// arrived adjusts the piece if need be and finishes the move.
func (t *Table) arrived(ctx context.Context, r sight.Reading) (Turn, error) {
	t.s.Suspects.look(t, t.measured())
	if t.astray(t.decided.To()) && t.tries < mends {
		t.tries++
		t.renameByHand(t.game.Position(), t.decided)
		t.now.Board = standing(t.after())
		scene := t.scene()
		plan, err := t.straighten(ctx, scene, t.decided.To())
		if err == nil && plan.Asks() == 0 { // a hand is not asked for so little
			if err := t.run(ctx, scene, plan); err != nil {
				return Turn{}, err
			}
			pos := t.game.Position()
			return Turn{Verifying, Record{What: Adjusted, Piece: pos.At(t.decided.From())}}, nil
		}
	}
	return t.moveStands(ctx, Record{What: MachineMoved, Belief: r.Belief}, true)
}

// moveStands makes the machine's move part of the game; the eye makes it too
// where it was read from a picture.
func (t *Table) moveStands(ctx context.Context, r Record, read bool) (Turn, error) {
	r.Move = t.decided
	if read {
		if err := t.p.Eye.Accept(r.Move); err != nil {
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
			return t.p.Planner.Straighten(ctx, sc, i, q)
		}
	}
	return carry.Plan{}, errNoPiece
}

// fetch goes to a piece that slipped on the way and brings it to its square.
func (t *Table) fetch(ctx context.Context) error {
	pos := t.game.Position()
	var gone []chess.Square
	board := standing(pos)
	if victim, at := pos.Captured(t.decided); victim != chess.NoPiece { // it was taken off before
		gone = append(gone, at)
		board[at] = chess.NoPiece
	}
	stray, seen := t.p.Eye.Seek(t.decided.From(), gone)
	if !seen {
		return errNoPiece
	}
	from, to := Place(t.decided.From()), Place(t.decided.To())
	piece := pos.At(t.decided.From())
	if t.now.Board[to] == piece {
		t.move(piece, to, from)
	}
	t.s.Suspects.slipped(t, Way{piece, from, to}, stray)
	t.now.Board = board
	if t.s.Suspects.isHopeless(t, piece, from) {
		return errNoPiece
	}
	sc := t.scene()
	i := slices.IndexFunc(sc.Pieces, func(m carry.Piece) bool { return m.Square == t.decided.From() })
	if i < 0 {
		return errNoPiece
	}
	sc.Pieces[i].At, sc.Pieces[i].Sigma, sc.Pieces[i].Square = stray.At, stray.Sigma, chess.NoSquare
	plan, err := t.p.Planner.Straighten(ctx, sc, i, t.decided.To())
	if err != nil {
		return errNoPiece
	}
	if err := t.record(ctx, Record{State: Verifying, What: Fetched, Piece: pos.At(t.decided.From()), JPEG: t.shown.JPEG}); err != nil {
		return err
	}
	return t.run(ctx, sc, plan)
}

// askMend asks the guest to set the board as it should be after the move.
func (t *Table) askMend(ctx context.Context, r sight.Reading) error {
	after := t.after()
	pos := t.game.Position()
	n := notice.Notice{Kind: notice.PleaseMend, Move: t.decided, Squares: r.Squares, FEN: after.FEN(),
		Text: mendOwnSentence(pos, t.decided)}
	if o := t.occupied(); o.open() {
		n.Squares = o.differing(standing(after))
		switch of := touched(pos, t.decided); {
		case len(n.Squares) == 0:
		case covers(of, n.Squares):
			n.Text += " Look at " + list(n.Squares) + "."
		default: // more is amiss than the move
			n.Text = "Please set the board as the plan shows: look at " + list(n.Squares) + "."
		}
	}
	if err := t.record(ctx, Record{State: Verifying, What: Requested, Said: n.Text, Squares: n.Squares, JPEG: t.shown.JPEG}); err != nil {
		return err
	}
	return t.tell(ctx, n)
}
