package table

import (
	"context"
	"fmt"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
)

// undoing takes moves back, the last one first: the machine carries its own
// men back, and those of the tray; the guest is asked for theirs.
func (t *Table) undoing(ctx context.Context) (State, string, error) {
	t.decided, t.mended = 0, false
	if !t.broken {
		if err := t.asItWas(ctx); err != nil {
			return Undoing, "", err
		}
	}
	for t.task.Plies > 0 && len(t.game.Moves) > 0 {
		if err := t.undo(ctx); err != nil {
			return Undoing, "", err
		}
	}
	t.setTask(Task{})
	s, why := t.next()
	return s, "taken back; " + why, nil
}

// asItWas waits until the board shows the position that is to be left: a move
// that the guest had begun is put back first.
func (t *Table) asItWas(ctx context.Context) error {
	if err := t.tell(ctx, notice.Notice{Kind: notice.TakingBack, Text: "I take it back. Hands off, please."}); err != nil {
		return err
	}
	return t.reach(ctx, t.game.Position(), false)
}

// undo takes back the last move of the game.
func (t *Table) undo(ctx context.Context) error {
	n := len(t.game.Moves)
	m, after, before := t.game.Moves[n-1], t.game.Position(), t.game.Start
	for _, m := range t.game.Moves[:n-1] {
		before.Make(m)
	}
	t.goal, t.replans = &before, 0
	defer func() { t.goal = nil }()
	begun, err := t.begunUndo(ctx, m)
	if err != nil {
		return err
	}
	told := false
	if !begun {
		t.now.Board, t.now.Way = standing(after), nil
		scene := t.scene()
		plan, err := t.p.Planner.TakeBack(ctx, scene, before, m)
		if err != nil {
			return fmt.Errorf("no way was found to take %s back: %w", before.SAN(m), err)
		}
		if err := t.run(ctx, scene, plan); err != nil {
			return err
		}
		told = endsWithAsk(plan)
	}
	t.p.Eye.Begin(before)
	if err := t.reach(ctx, before, told); err != nil {
		return err
	}
	return t.undone(ctx, before, m)
}

// begunUndo says, after a break, whether the board no longer shows the move:
// then somebody sets right what is left of it.
func (t *Table) begunUndo(ctx context.Context, m chess.Move) (bool, error) {
	if !t.broken {
		return false, nil
	}
	t.p.Eye.Begin(*t.goal)
	r, err := t.settled(ctx)
	if err != nil {
		return false, err
	}
	t.broken = false
	if r.State == sight.Moved && r.Move == m {
		t.p.Eye.Begin(t.game.Position())
		return false, nil
	}
	t.helped = r.State != sight.Same
	return true, nil
}

// undone makes it part of the record: the game goes back, the log keeps both.
func (t *Table) undone(ctx context.Context, before chess.Position, m chess.Move) error {
	if w := t.now.Way; w != nil && !t.helped {
		t.now.move(w.Piece, w.From, w.To)
	}
	t.now.Way, t.helped = nil, false
	t.now.agree(standing(before), t.number)
	t.number = t.now.count()
	if err := t.game.Pop(); err != nil {
		return err
	}
	t.moved()
	task := Task{Kind: TakeBack, Plies: t.task.Plies - 1}
	if task.Plies == 0 || t.plies == 0 {
		task = Task{}
	}
	t.mu.Lock()
	t.task = task
	t.mu.Unlock()
	return t.record(ctx, Record{State: Undoing, Back: m, Task: task.String(),
		Text: "taken back: " + before.SAN(m), JPEG: t.shown.JPEG})
}

func endsWithAsk(p carry.Plan) bool {
	n := len(p.Steps)
	return n > 0 && p.Steps[n-1].Do == carry.Ask
}

// sure is how many pictures in a row must show a position that the eye was
// told afresh: it learns the light from the first of them, and a hand in that
// one would give itself away in the next.
const sure = 3

// reach waits until pictures show a position that the eye has been told, and
// says what is still missing; told says that the guest has just been asked for
// it and needs a moment.
func (t *Table) reach(ctx context.Context, want chess.Position, told bool) error {
	pos := t.game.Position()
	afresh := want.Key() != pos.Key()
	var said, last sight.Reading
	for same := 0; same < sure; {
		r, err := t.look(ctx)
		if err != nil {
			return err
		}
		if t.isHalted() {
			return errHalted
		}
		if r.State == sight.Same {
			same++
			continue
		}
		if same = 0; afresh {
			t.p.Eye.Begin(want) // what was learnt of a board half set is forgotten
		}
		steady := r.State != sight.Hand && alike(last, r) // nobody is at work on it
		if last = r; !steady || alike(said, r) {
			continue
		}
		if said = r; told {
			told = false
			continue
		}
		if err := t.tell(ctx, reachNotice(want, r)); err != nil {
			return err
		}
	}
	return nil
}

func reachNotice(want chess.Position, r sight.Reading) notice.Notice {
	n := notice.Notice{Kind: notice.PleaseMend, Squares: r.Squares, FEN: want.FEN(),
		Text: fmt.Sprintf("Please set the board as it was: I see a change on %s.", list(r.Squares))}
	if want.Key() == startKey {
		n.Text = fmt.Sprintf("Please look at %s: the men should stand as at the start of a game.", list(r.Squares))
	}
	return n
}

var startKey = func() uint64 { p := chess.Start(); return p.Key() }()
