package table

import (
	"context"
	"fmt"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
)

// arranging sets the men up for the next game: the machine carries whom it
// can, and asks for the others in one sentence.
func (t *Table) arranging(ctx context.Context) (State, string, error) {
	start := chess.Start()
	t.goal, t.decided, t.replans = &start, 0, 0
	defer func() { t.goal = nil }()
	text := "I set the men up for the next game. Hands off, please."
	if err := t.tell(ctx, notice.Notice{Kind: notice.TakingBack, Text: text, FEN: t.boardFEN()}); err != nil {
		return Arranging, "", err
	}
	if !t.broken {
		if err := t.reach(ctx, t.game.Position(), false); err != nil {
			return Arranging, "", err
		}
	}
	if err := t.recoverMan(ctx); err != nil {
		return Arranging, "", err
	}
	scene := t.scene()
	plan, _, err := t.p.Planner.SetUp(ctx, scene)
	if err != nil {
		return Arranging, "", err
	}
	clear(t.men) // they are about to move
	if err := t.run(ctx, scene, plan); err != nil {
		return Arranging, "", err
	}
	t.p.Eye.Begin(start)
	if err := t.reach(ctx, start, endsWithAsk(plan)); err != nil {
		return Arranging, "", err
	}
	return t.arrangedAll(ctx, start)
}

// arrangedAll ends the task; the men beside the board go with the next game.
func (t *Table) arrangedAll(ctx context.Context, start chess.Position) (State, string, error) {
	t.now.Way, t.arranged = nil, true
	t.now.agree(standing(start), t.number)
	t.number = t.now.count()
	t.setTask(Task{})
	err := t.record(ctx, Record{State: Arranging, Task: Task{}.String(), Text: "the men stand where the next game begins", JPEG: t.shown.JPEG})
	return Over, "set up for the next game", err
}

// recoverMan asks, after a break, for the man that was being carried: he may
// stand anywhere on his way.
func (t *Table) recoverMan(ctx context.Context) error {
	w := t.now.Way
	t.broken = false
	if w == nil {
		return nil
	}
	text := fmt.Sprintf("Please stand the %v on %s: I was carrying it when I stopped.", w.Piece, t.placeWords(w.To))
	n := notice.Notice{Kind: notice.PleasePut, Text: text, Piece: w.Piece}
	if w.To >= 0 && w.To < Slot {
		n.Squares = []chess.Square{chess.Square(w.To)}
		n.Acts = []notice.Act{{Piece: w.Piece, From: chess.NoSquare, To: chess.Square(w.To)}}
	}
	if k := int(w.To - Slot); k >= 0 && k < len(t.s.Slots) {
		n.Acts = []notice.Act{{Piece: w.Piece, From: chess.NoSquare, To: chess.NoSquare}}
		n.Slot = &t.s.Slots[k]
		if w.From >= 0 && w.From < Slot {
			n.Acts[0].From = chess.Square(w.From)
		}
	}
	t.now.move(w.Piece, w.From, w.To)
	t.now.Way = nil
	n.FEN = t.boardFEN()
	if err := t.tell(ctx, n); err != nil {
		return err
	}
	_, err := t.ask(ctx, notice.Question{Text: text, Choices: []string{"it stands there"}, Moves: []chess.Move{0}})
	return err
}

// Standing is where the men are now: for the next game.
func (t *Table) Standing() Standing { return t.now.clone() }
