// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"slices"

	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/diagnosis"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/table/view"
	"boardhand/internal/table/wording"
)

// verifying looks whether the machine's move stands on the board. What slipped
// or stayed is brought once more, what has no part in it is looked at again;
// then the guest is asked. Only a picture that leaves nothing unexplained, or
// a person's word, makes the move part of the game.
func (t *Table) verifying(ctx context.Context) (journal.Turn, error) {
	t.p.Eye.Follower.Expect(t.m.Decided) // after a break it may not know
	if err := t.settleWay(ctx); err != nil {
		return journal.Turn{}, err
	}
	var told view.Insistence
	for {
		r, err := t.v.Settled(ctx)
		if errors.Is(err, desk.ErrRight) {
			t.p.Eye.Learner.Agree(t.m.After())
			return t.moveStands(ctx, journal.Record{What: journal.MachineMoved, Belief: 1}, false)
		}
		if err != nil {
			return journal.Turn{}, err
		}
		switch {
		case r.State == sight.Moved && r.Move == t.m.Decided, t.isBelieved(r):
			return t.arrived(ctx, r)
		case t.isAnswered(r):
			return t.moveStands(ctx, journal.Record{What: journal.MachineMoved, Belief: r.Belief}, true)
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
		if !told.IsDue(r) {
			continue
		}
		if r.State == sight.Same {
			t.stayedBehind()
		}
		t.s.Suspects.Disorder(t.m, t.detections)
		t.s.Suspects.Forget() // what stands there from now on a person may have moved
		if err := t.askMend(ctx, r); err != nil {
			return journal.Turn{}, err
		}
	}
}

// isBelieved says whether a doubtful picture is still the machine's own move:
// it is the likeliest explanation, and each square by itself, and the strip
// beside the board, bears it out.
func (t *Table) isBelieved(r sight.Reading) bool {
	return r.State == sight.Unsure && len(r.Candidates) > 0 && r.Candidates[0].Move == t.m.Decided &&
		r.Candidates[0].Belief > likelier && t.v.Proves(places.BoardOf(t.m.After()))
}

// isAnswered says whether the guest has moved already: the machine's move and
// one of the guest's together explain what no single move explains.
func (t *Table) isAnswered(r sight.Reading) bool {
	if r.State != sight.Illegal && r.State != sight.Unsure {
		return false
	}
	o := t.v.Evidence()
	if !o.IsOpen() {
		return false
	}
	moves, lead := o.Explained(t.m.Game.Position())
	return len(moves) == 2 && moves[0] == t.m.Decided && lead > clearly && len(o.Differing(places.BoardOf(t.m.AfterAll(moves)))) == 0
}

// again tries to bring what did not arrive: everything once more if nothing
// came along, a piece that slipped from where it lies, or what is left of the
// move. It says false when nothing can be done by the machine.
func (t *Table) again(ctx context.Context, r sight.Reading) (journal.Turn, bool, error) {
	if r.State == sight.Same {
		return t.onceMore()
	}
	err := t.fetch(ctx)
	switch {
	case err == nil:
		return journal.Turn{To: journal.Verifying, Rec: journal.Record{What: journal.Carried}}, false, nil
	case !errors.Is(err, errNoPiece):
		return journal.Turn{}, false, err
	}
	return t.remainder(ctx)
}

// onceMore carries a piece again that did not come along, unless that is
// known to be useless.
func (t *Table) onceMore() (journal.Turn, bool, error) {
	piece, from := t.stayedBehind()
	if t.s.Suspects.IsUseless(t.m.Names.Of(from)) {
		return journal.Turn{}, false, nil
	}
	return journal.Turn{To: journal.Carrying, Rec: journal.Record{What: journal.NotFollowed, Piece: piece}}, true, nil
}

// stayedBehind notes that the piece of the machine's move did not come along.
func (t *Table) stayedBehind() (chess.Piece, places.Place) {
	piece, from := t.m.StayedBehind()
	t.s.Suspects.Look(t.m, t.m.Measured())
	return piece, from
}

// remainder plans what is left of the decided move, for the pieces as single
// squares show them.
func (t *Table) remainder(ctx context.Context) (journal.Turn, bool, error) {
	pos, after := t.m.Game.Position(), t.m.After()
	board, ok := t.v.Evidence().Between(places.BoardOf(pos), places.BoardOf(after), places.Touched(pos, t.m.Decided))
	if !ok {
		return journal.Turn{}, false, nil
	}
	was := t.m.Now.Board
	t.m.Now.Board = board
	scene := t.c.Scene()
	plan, err := t.p.Planner.Mender.Resume(ctx, scene, t.m.Game.Position(), t.m.Decided)
	if err != nil || len(plan.Steps) == 0 {
		t.m.Now.Board = was
		return journal.Turn{}, false, ctx.Err()
	}
	if err := t.d.Record(ctx, journal.Record{State: t.d.State, What: journal.Replanned, JPEG: t.v.Shown.JPEG}); err != nil {
		return journal.Turn{}, false, err
	}
	return journal.Turn{}, false, t.run(ctx, scene, plan)
}

// arrived adjusts the piece if need be and finishes the move.
func (t *Table) arrived(ctx context.Context, r sight.Reading) (journal.Turn, error) {
	t.s.Suspects.Look(t.m, t.m.Measured())
	if t.m.IsOffCentre(t.m.Decided.To()) && t.tries < mends {
		t.tries++
		t.m.RenameByHand(t.m.Decided)
		t.m.Now.Board = places.BoardOf(t.m.After())
		scene := t.c.Scene()
		plan, err := t.straighten(ctx, scene, t.m.Decided.To())
		if err == nil && plan.Asks() == 0 { // a hand is not asked for so little
			if err := t.run(ctx, scene, plan); err != nil {
				return journal.Turn{}, err
			}
			pos := t.m.Game.Position()
			return journal.Turn{To: journal.Verifying, Rec: journal.Record{What: journal.Adjusted, Piece: pos.At(t.m.Decided.From())}}, nil
		}
	}
	return t.moveStands(ctx, journal.Record{What: journal.MachineMoved, Belief: r.Belief}, true)
}

// moveStands makes the machine's move part of the game; the eye makes it too
// where it was read from a picture.
func (t *Table) moveStands(ctx context.Context, r journal.Record, read bool) (journal.Turn, error) {
	r.Move = t.m.Decided
	if read {
		if err := t.p.Eye.Follower.Accept(r.Move); err != nil {
			return journal.Turn{}, err
		}
	}
	if err := t.finish(ctx, r); err != nil {
		return journal.Turn{}, err
	}
	if err := t.suspect(ctx); err != nil {
		return journal.Turn{}, err
	}
	return t.next(), nil
}

// straighten plans to bring the piece on a square to its centre.
func (t *Table) straighten(ctx context.Context, sc plan.Scene, q chess.Square) (plan.Plan, error) {
	for i, m := range sc.Pieces {
		if m.Square == q {
			return t.p.Planner.Mender.Straighten(ctx, sc, i, q)
		}
	}
	return plan.Plan{}, errNoPiece
}

// fetch goes to a piece that slipped on the way and brings it to its square.
func (t *Table) fetch(ctx context.Context) error {
	pos := t.m.Game.Position()
	var gone []chess.Square
	board := places.BoardOf(pos)
	if victim, at := pos.Captured(t.m.Decided); victim != chess.NoPiece { // it was taken off before
		gone = append(gone, at)
		board[at] = chess.NoPiece
	}
	stray, seen := t.p.Eye.Witness.Seek(t.m.Decided.From(), gone)
	if !seen {
		return errNoPiece
	}
	w := t.m.Slipped()
	t.s.Suspects.Slipped(t.m, w, diagnosis.Sighting{At: stray.At, Sigma: stray.Sigma}, t.detections)
	t.m.Now.Board = board
	if t.s.Suspects.IsUseless(t.m.Names.Of(w.From)) {
		return errNoPiece
	}
	sc := t.c.Scene()
	i := slices.IndexFunc(sc.Pieces, func(m plan.Piece) bool { return m.Square == t.m.Decided.From() })
	if i < 0 {
		return errNoPiece
	}
	sc.Pieces[i].At, sc.Pieces[i].Sigma, sc.Pieces[i].Square = stray.At, stray.Sigma, chess.NoSquare
	plan, err := t.p.Planner.Mender.Straighten(ctx, sc, i, t.m.Decided.To())
	if err != nil {
		return errNoPiece
	}
	if err := t.d.Record(ctx, journal.Record{State: journal.Verifying, What: journal.Fetched, Piece: pos.At(t.m.Decided.From()), JPEG: t.v.Shown.JPEG}); err != nil {
		return err
	}
	return t.run(ctx, sc, plan)
}

// askMend asks the guest to set the board as it should be after the move.
func (t *Table) askMend(ctx context.Context, r sight.Reading) error {
	after := t.m.After()
	pos := t.m.Game.Position()
	n := notice.Notice{Kind: notice.PleaseMend, Move: t.m.Decided, Squares: r.Squares, FEN: after.FEN(),
		Text: wording.FinishOwnMove(pos, t.m.Decided)}
	if o := t.v.Evidence(); o.IsOpen() {
		n.Squares = o.Differing(places.BoardOf(after))
		switch of := places.Touched(pos, t.m.Decided); {
		case len(n.Squares) == 0:
		case places.Covers(of, n.Squares):
			n.Text += " Look at " + places.List(n.Squares) + "."
		default: // more is amiss than the move
			n.Text = "Please set the board as the plan shows: look at " + places.List(n.Squares) + "."
		}
	}
	if err := t.d.Record(ctx, journal.Record{State: journal.Verifying, What: journal.Requested, Said: n.Text, Squares: n.Squares, JPEG: t.v.Shown.JPEG}); err != nil {
		return err
	}
	return t.d.Tell(ctx, n)
}

// detections are the pieces that single places of the last picture show, on
// squares and elsewhere, whatever move may explain it.
func (t *Table) detections() (out []diagnosis.Detection) {
	var known []frame.Spot[frame.Board]
	for _, p := range t.v.Evidence() {
		if p.Open && p.Belief > likelier {
			out = append(out, diagnosis.Detection{Side: p.Side.String(), Sighting: diagnosis.Sighting{At: p.Found, Sigma: p.Sigma}})
			known = append(known, p.Found)
		}
	}
	for _, p := range t.p.Eye.Witness.Strangers(known) {
		out = append(out, diagnosis.Detection{Side: p.Side.String(), Sighting: diagnosis.Sighting{At: p.At, Sigma: p.Sigma}})
	}
	return out
}

// suspect tells the maker which part to look at, as soon as that is clear.
func (t *Table) suspect(ctx context.Context) error {
	for _, f := range t.s.Suspects.News() {
		t.d.Observe(desk.Event{Suspicion: f.Sentence})
		if err := t.d.Record(ctx, journal.Record{State: t.d.State, What: journal.Suspected, Cause: string(f.Cause), Origin: f.Piece, Axis: f.Axis, Said: f.Sentence}); err != nil {
			return err
		}
	}
	return nil
}

var errNoPiece = errors.New("the piece was not seen")
