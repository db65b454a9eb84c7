// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"slices"

	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/diagnosis"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/table/view"
	"boardhand/internal/table/wording"
)

// verification sees to it that the machine's move stands on the board.
type verification struct {
	*kit
	sheet   *scoresheet
	exec    *executor
	carrier *carrier
	ask     *asker
	exam    *examiner
}

// verifying looks whether the machine's move stands on the board. What slipped
// or stayed is brought once more, what has no part in it is looked at again;
// then the guest is asked. Only a picture that leaves nothing unexplained, or
// a person's word, makes the move part of the game.
func (vf *verification) verifying(ctx context.Context) (journal.Turn, error) {
	vf.Eye.Follower.Expect(vf.m.Decided) // after a break it may not know
	if err := vf.carrier.settleWay(ctx); err != nil {
		return journal.Turn{}, err
	}
	var told view.Insistence
	for {
		r, err := vf.v.Settled(ctx)
		if errors.Is(err, desk.ErrRight) {
			vf.Eye.Learner.Agree(vf.m.After())
			return vf.moveStands(ctx, journal.Record{What: journal.MachineMoved, Belief: 1}, false)
		}
		if err != nil {
			return journal.Turn{}, err
		}
		switch {
		case r.State == sight.Moved && r.Move == vf.m.Decided, vf.isBelieved(r):
			return vf.arrived(ctx, r)
		case vf.isAnswered(r):
			return vf.moveStands(ctx, journal.Record{What: journal.MachineMoved, Belief: r.Belief}, true)
		}
		if vf.spent.tries < mends {
			vf.spent.tries++
			turn, done, err := vf.again(ctx, r)
			if done || err != nil {
				return turn, err
			}
			if vf.spent.tries < mends {
				continue
			}
		}
		if !told.IsDue(r) {
			continue
		}
		if r.State == sight.Same {
			vf.exam.stayedBehind()
		}
		vf.Suspects.Disorder(vf.m, vf.exam.detections)
		vf.Suspects.Forget() // what stands there from now on a person may have moved
		if err := vf.askMend(ctx, r); err != nil {
			return journal.Turn{}, err
		}
	}
}

// isAnswered says whether the guest has moved already: the machine's move and
// one of the guest's together explain what no single move explains.
func (vf *verification) isAnswered(r sight.Reading) bool {
	if r.State != sight.Illegal && r.State != sight.Unsure {
		return false
	}
	o := vf.v.Evidence()
	if !o.IsOpen() {
		return false
	}
	moves, lead := o.Explained(vf.m.Game.Position())
	return len(moves) == 2 && moves[0] == vf.m.Decided && lead > clearly && len(o.Differing(places.BoardOf(vf.m.AfterAll(moves)))) == 0
}

// again tries to bring what did not arrive: everything once more if nothing
// came along, what is left of the move, or a piece that slipped from where it
// lies. It says false when nothing can be done by the machine.
func (vf *verification) again(ctx context.Context, r sight.Reading) (journal.Turn, bool, error) {
	if r.State == sight.Same {
		return vf.onceMore()
	}
	board, isHalfMade := vf.halfMade()
	if isHalfMade && pieces(board) == pieces(places.BoardOf(vf.m.After())) { // nobody is lost: castling, with the king in its place
		return vf.remainder(ctx, board)
	}
	if vf.v.HasCome() {
		isMended, err := vf.mendBystanders(ctx, vf.exam.judge())
		return journal.Turn{To: vf.d.State}, isMended, err
	}
	err := vf.fetch(ctx)
	switch {
	case err == nil:
		return journal.Turn{To: journal.Verifying, Rec: journal.Record{What: journal.Carried}}, false, nil
	case !errors.Is(err, errNoPiece):
		return journal.Turn{}, false, err
	case !isHalfMade:
		return journal.Turn{}, false, nil
	}
	return vf.remainder(ctx, board)
}

// halfMade is the board as single squares show it with the decided move half made.
func (vf *verification) halfMade() ([64]chess.Piece, bool) {
	pos := vf.m.Game.Position()
	return vf.v.Evidence().Between(places.BoardOf(pos), places.BoardOf(vf.m.After()), places.Touched(pos, vf.m.Decided))
}

// pieces counts them.
func pieces(board [64]chess.Piece) (n int) {
	for _, p := range board {
		if p != chess.NoPiece {
			n++
		}
	}
	return n
}

var errNoPiece = errors.New("the piece was not seen")

// onceMore carries a piece again that did not come along, unless that is
// known to be useless.
func (vf *verification) onceMore() (journal.Turn, bool, error) {
	piece, from := vf.exam.stayedBehind()
	if vf.Suspects.IsUseless(vf.m.Names.Of(from)) {
		return journal.Turn{}, false, nil
	}
	return journal.Turn{To: journal.Carrying, Rec: journal.Record{What: journal.NotFollowed, Piece: piece}}, true, nil
}

// remainder plans what is left of the decided move, for the pieces as single
// squares show them.
func (vf *verification) remainder(ctx context.Context, board [64]chess.Piece) (journal.Turn, bool, error) {
	was := vf.m.Now.Board
	vf.m.Now.Board = board
	scene := vf.c.Scene()
	plan, err := vf.Planner.Mender.Resume(ctx, scene, vf.m.Game.Position(), vf.m.Decided)
	if err != nil || len(plan.Steps) == 0 {
		vf.m.Now.Board = was
		return journal.Turn{}, false, ctx.Err()
	}
	if err := vf.d.Record(ctx, journal.Record{State: vf.d.State, What: journal.Replanned, JPEG: vf.v.Shown.JPEG}); err != nil {
		return journal.Turn{}, false, err
	}
	return journal.Turn{}, false, vf.exec.run(ctx, scene, plan)
}

// arrived adjusts the piece if need be and finishes the move.
func (vf *verification) arrived(ctx context.Context, r sight.Reading) (journal.Turn, error) {
	if isMended, err := vf.mendBystanders(ctx, vf.exam.judge()); isMended || err != nil {
		return journal.Turn{To: vf.d.State}, err
	}
	if vf.m.IsOffCentre(vf.m.Decided.To()) && vf.spent.tries < mends {
		vf.spent.tries++
		vf.m.RenameByHand(vf.m.Decided)
		vf.m.Now.Board = places.BoardOf(vf.m.After())
		scene := vf.c.Scene()
		plan, err := vf.straighten(ctx, scene, vf.m.Decided.To())
		if err == nil && plan.Asks() == 0 { // a hand is not asked for so little
			if err := vf.exec.run(ctx, scene, plan); err != nil {
				return journal.Turn{}, err
			}
			pos := vf.m.Game.Position()
			return journal.Turn{To: journal.Verifying, Rec: journal.Record{What: journal.Adjusted, Piece: pos.At(vf.m.Decided.From())}}, nil
		}
	}
	return vf.moveStands(ctx, journal.Record{What: journal.MachineMoved, Belief: r.Belief}, true)
}

// mendBystanders has a person set straight who was pushed over the line of their
// square: whoever moves next would not know on which one they stand. It says
// whether there was anybody.
func (vf *verification) mendBystanders(ctx context.Context, astray []chess.Square) (bool, error) {
	for _, q := range astray {
		if err := vf.ask.askStraight(ctx, q); err != nil {
			return true, err
		}
	}
	if len(astray) > 0 {
		vf.exam.stood = nil // who a person calls right is right
	}
	return len(astray) > 0, nil
}

// moveStands makes the machine's move part of the game; the eye makes it too
// where it was read from a picture.
func (vf *verification) moveStands(ctx context.Context, r journal.Record, read bool) (journal.Turn, error) {
	r.Move = vf.m.Decided
	if read {
		if err := vf.Eye.Follower.Accept(r.Move); err != nil {
			return journal.Turn{}, err
		}
	}
	if err := vf.sheet.finish(ctx, r); err != nil {
		return journal.Turn{}, err
	}
	if err := vf.exam.suspect(ctx); err != nil {
		return journal.Turn{}, err
	}
	return vf.sheet.next(), nil
}

// straighten plans to bring the piece on a square to its centre.
func (vf *verification) straighten(ctx context.Context, sc plan.Scene, q chess.Square) (plan.Plan, error) {
	for i, m := range sc.Pieces {
		if m.Square == q {
			return vf.Planner.Mender.Straighten(ctx, sc, i, q)
		}
	}
	return plan.Plan{}, errNoPiece
}

// fetch goes to a piece that slipped on the way and brings it to its square.
func (vf *verification) fetch(ctx context.Context) error {
	pos := vf.m.Game.Position()
	var gone []chess.Square
	board := places.BoardOf(pos)
	if victim, at := pos.Captured(vf.m.Decided); victim != chess.NoPiece { // it was taken off before
		gone = append(gone, at)
		board[at] = chess.NoPiece
	}
	stray, seen := vf.Eye.Witness.Seek(vf.m.Decided.From(), gone)
	if !seen {
		return errNoPiece
	}
	w := vf.m.Slipped()
	vf.Suspects.Slipped(vf.m, w, diagnosis.Sighting{At: stray.At, Sigma: stray.Sigma}, vf.exam.detections)
	vf.m.Now.Board = board
	if vf.Suspects.IsUseless(vf.m.Names.Of(w.From)) {
		return errNoPiece
	}
	sc := vf.c.Scene()
	i := slices.IndexFunc(sc.Pieces, func(m plan.Piece) bool { return m.Square == vf.m.Decided.From() })
	if i < 0 {
		return errNoPiece
	}
	sc.Pieces[i].At, sc.Pieces[i].Sigma, sc.Pieces[i].Square = stray.At, stray.Sigma, chess.NoSquare
	plan, err := vf.Planner.Mender.Straighten(ctx, sc, i, vf.m.Decided.To())
	if err != nil {
		return errNoPiece
	}
	if err := vf.d.Record(ctx, journal.Record{State: journal.Verifying, What: journal.Fetched, Piece: pos.At(vf.m.Decided.From()), JPEG: vf.v.Shown.JPEG}); err != nil {
		return err
	}
	return vf.exec.run(ctx, sc, plan)
}

// askMend asks the guest to set the board as it should be after the move.
func (vf *verification) askMend(ctx context.Context, r sight.Reading) error {
	after := vf.m.After()
	pos := vf.m.Game.Position()
	n := notice.Notice{Kind: notice.PleaseMend, Move: vf.m.Decided, Squares: r.Squares, FEN: after.FEN(),
		Text: wording.FinishOwnMove(pos, vf.m.Decided)}
	if o := vf.v.Evidence(); o.IsOpen() {
		n.Squares = o.Differing(places.BoardOf(after))
		switch of := places.Touched(pos, vf.m.Decided); {
		case len(n.Squares) == 0:
		case places.Covers(of, n.Squares):
			n.Text += " Look at " + places.List(n.Squares) + "."
		default: // more is amiss than the move
			n.Text = "Please set the board as the plan shows: look at " + places.List(n.Squares) + "."
		}
	}
	if err := vf.d.Record(ctx, journal.Record{State: journal.Verifying, What: journal.Requested, Said: n.Text, Squares: n.Squares, JPEG: vf.v.Shown.JPEG}); err != nil {
		return err
	}
	return vf.d.Tell(ctx, n)
}
