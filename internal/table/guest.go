package table

import (
	"context"
	"fmt"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
)

// setting homes the axes and looks until the board shows the position.
func (t *Table) setting(ctx context.Context) (State, string, error) {
	if err := t.home(ctx); err != nil {
		return Setting, "", err
	}
	if s, ok := taskState[t.task.Kind]; ok {
		return s, "the break came in the middle of it", nil
	}
	told := false
	for {
		r, err := t.settled(ctx)
		if err != nil {
			return Setting, "", err
		}
		switch {
		case r.State == sight.Same:
			s, why := t.next()
			return s, "the board shows the position; " + why, nil
		case r.State == sight.Moved && t.decided != 0 && r.Move == t.decided:
			return Verifying, "the move chosen before the break stands on the board", nil
		case r.State == sight.Moved && t.decided == 0 && !t.machineToMove():
			t.first = r
			return Reading, "the guest has moved already", nil
		case t.decided != 0 && r.State != sight.Unsure:
			return Verifying, "the break came in the middle of a move", nil
		}
		if !told {
			told = true
			if err := t.tell(ctx, mendNotice(r, t.game.Position())); err != nil {
				return Setting, "", err
			}
		}
	}
}

func (t *Table) machineToMove() bool {
	pos := t.game.Position()
	return pos.SideToMove() == t.s.Machine
}

// guesting tells the guest that it is their move and waits for something to change.
func (t *Table) guesting(ctx context.Context) (State, string, error) {
	if some, err := t.granted(ctx); some || err != nil {
		return Undoing, "the guest wishes it", err
	}
	pos := t.game.Position()
	n := notice.Notice{Kind: notice.YourMove, Move: t.lastMove, Text: yourMoveSentence(t.game, t.s.Machine), FEN: pos.FEN()}
	t.offerSlot(pos, &n)
	if err := t.tell(ctx, n); err != nil {
		return Guesting, "", err
	}
	return t.watch(ctx)
}

// offerSlot tells the guest where in the tray to stand a man with a magnet
// that they take, so that the machine can carry him home for the next game.
func (t *Table) offerSlot(pos chess.Position, n *notice.Notice) {
	t.offered = Person
	scene := t.scene()
	for _, m := range pos.LegalMoves(nil) {
		victim, at := pos.Captured(m)
		if victim == chess.NoPiece || !t.s.Carried[victim.Color()] {
			continue
		}
		for i, man := range scene.Men {
			spot, free := t.p.Planner.SlotFor(scene, i)
			if man.Square != at || !free {
				continue
			}
			t.offered, n.Slot = t.placeOf(chess.NoSquare, spot), &spot
			n.Text += fmt.Sprintf(" If you take a man of mine, stand it in %s.", t.placeWords(t.offered))
			return
		}
	}
}

// watch looks until a picture without a hand differs from the position.
func (t *Table) watch(ctx context.Context) (State, string, error) {
	for {
		if some, err := t.granted(ctx); some || err != nil {
			return Undoing, "the guest wishes it", err
		}
		r, err := t.look(ctx)
		if err != nil {
			return Guesting, "", err
		}
		if t.isHalted() {
			return Trouble, "stopped by hand", errHalted
		}
		if r.State != sight.Same && r.State != sight.Hand {
			t.first = r
			return Reading, "something has moved", nil
		}
	}
}

// reading works out what the guest did: it believes what two pictures in a
// row say, asks when they leave a doubt, and explains what does not fit.
func (t *Table) reading(ctx context.Context) (State, string, error) {
	var said sight.Reading // what has been explained already
	seen := t.first
	for {
		if some, err := t.granted(ctx); some || err != nil {
			return Undoing, "the guest wishes it", err
		}
		r, err := t.confirm(ctx, seen)
		if err != nil {
			return Reading, "", err
		}
		seen = sight.Reading{}
		switch r.State {
		case sight.Moved:
			return t.accept(ctx, r)
		case sight.Same:
			return Guesting, "set back, or set straight", nil
		case sight.Unsure:
			if s, why, done, err := t.askWhich(ctx, r); done || err != nil {
				return s, why, err
			}
			continue
		}
		if alike(said, r) {
			continue
		}
		said = r
		if err := t.tell(ctx, mendNotice(r, t.game.Position())); err != nil {
			return Reading, "", err
		}
	}
}

// accept makes the guest's move part of the game.
func (t *Table) accept(ctx context.Context, r sight.Reading) (State, string, error) {
	if err := t.p.Eye.Accept(r.Move); err != nil {
		return Reading, "", err
	}
	if err := t.finish(ctx, r.Move, r.Belief); err != nil {
		return Reading, "", err
	}
	s, why := t.next()
	return s, why, nil
}

// askWhich asks the guest which of the candidates was played.
func (t *Table) askWhich(ctx context.Context, r sight.Reading) (State, string, bool, error) {
	pos := t.game.Position()
	q := whichQuestion(r, pos)
	i, err := t.ask(ctx, q)
	if err != nil {
		return Reading, "", false, err
	}
	if i == len(q.Choices)-1 { // none of these
		err := t.tell(ctx, mendNotice(r, pos))
		return Reading, "", false, err
	}
	m := q.Moves[i]
	if err := t.p.Eye.Resolve(m); err != nil {
		return Reading, "", false, err
	}
	if m == 0 {
		return Guesting, "the guest says that nothing was played", true, nil
	}
	if err := t.finish(ctx, m, 1); err != nil {
		return Reading, "", false, err
	}
	s, why := t.next()
	return s, why, true, nil
}

// whichQuestion offers the candidates in words.
func whichQuestion(r sight.Reading, pos chess.Position) notice.Question {
	q := notice.Question{Text: "I am not sure what was played. Which is it?"}
	for _, c := range r.Candidates {
		if c.Move != 0 && !pos.Legal(c.Move) {
			continue
		}
		q.Choices = append(q.Choices, moveWords(pos, c.Move))
		q.Moves = append(q.Moves, c.Move)
	}
	q.Choices = append(q.Choices, "none of these")
	q.Moves = append(q.Moves, 0)
	return q
}
