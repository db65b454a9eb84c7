package table

import (
	"context"
	"fmt"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
)

// standing copies a position's men.
func standing(p chess.Position) (b [64]chess.Piece) {
	for q := range b {
		b[q] = p.At(chess.Square(q))
	}
	return b
}

// stand follows what a step does to the men, so that it is known what a
// picture should show in the middle of a plan.
func (t *Table) stand(s carry.Step) {
	if s.Do != carry.Carry && s.Do != carry.Ask {
		return
	}
	if s.From < chess.NoSquare {
		t.board[s.From] = chess.NoPiece
	}
	if s.To < chess.NoSquare {
		t.board[s.To] = s.Piece
	}
}

// differs lists the squares on which the plan so far differs from the game's position.
func (t *Table) differs() []chess.Square {
	pos := t.game.Position()
	var out []chess.Square
	for q := chess.Square(0); q < chess.NoSquare; q++ {
		if t.board[q] != pos.At(q) {
			out = append(out, q)
		}
	}
	return out
}

// askStep tells the guest what to do and waits until the picture shows it.
func (t *Table) askStep(ctx context.Context, s carry.Step, last bool) error {
	if err := t.enter(ctx, Removal, s.Text); err != nil {
		return err
	}
	n := t.askNotice(s, last)
	if err := t.tell(ctx, n); err != nil {
		return err
	}
	for {
		r, err := t.settled(ctx)
		if err != nil {
			return err
		}
		if t.isHalted() {
			return errHalted
		}
		if t.shows(r, s, last) {
			return t.enter(ctx, Carrying, "done; going on")
		}
		if r.State == sight.Illegal && len(r.Squares) > 0 {
			n.Text = fmt.Sprintf("%s I see a change on %s.", s.Text, list(r.Squares))
			if err := t.tell(ctx, n); err != nil {
				return err
			}
		}
	}
}

func (t *Table) askNotice(s carry.Step, last bool) notice.Notice {
	n := notice.Notice{Kind: notice.PleasePut, Text: s.Text, Piece: s.Piece, Squares: []chess.Square{s.To}, Move: t.decided}
	switch {
	case s.To == chess.NoSquare:
		n.Kind, n.Squares = notice.PleaseTake, []chess.Square{s.From}
	case s.From == s.To:
		n.Kind = notice.PleaseMend
	case last && t.decided != 0:
		after := t.after()
		n.FEN = after.FEN()
	}
	return n
}

// shows says whether a picture shows what was asked for. The last step of a
// move must show the move itself: a pawn still to be exchanged changes the
// same squares as the queen that replaces it.
func (t *Table) shows(r sight.Reading, s carry.Step, last bool) bool {
	switch {
	case s.From == s.To:
		return !t.astray(s.To)
	case last && t.decided != 0:
		return r.State == sight.Moved && r.Move == t.decided || t.believed(r)
	}
	want := t.differs()
	return len(want) == len(r.Squares) && covers(want, r.Squares) || len(want) == 0 && r.State == sight.Same
}

// after is the position once the decided move is finished.
func (t *Table) after() chess.Position {
	pos := t.game.Position()
	return pos.After(t.decided)
}
