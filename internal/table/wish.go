package table

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// Task is a longer job that must be finished even after a break.
type Task struct {
	Kind  TaskKind
	Plies int // TakeBack: still to be taken back
}

// TaskKind is a kind of task.
type TaskKind string

// The kinds of task.
const (
	NoTask   TaskKind = ""
	TakeBack TaskKind = "take_back" // the last moves are taken back
	SetUp    TaskKind = "set_up"    // the men go where the next game begins
)

// String is the task as it is kept; ended tasks are kept as "none".
func (t Task) String() string {
	switch t.Kind {
	case NoTask:
		return "none"
	case TakeBack:
		return fmt.Sprintf("%s %d", t.Kind, t.Plies)
	}
	return string(t.Kind)
}

// mostPlies bounds what may be taken back at once: one move of each side.
const mostPlies = 2

// ParseTask reads what String wrote.
func ParseTask(text string) (Task, error) {
	kind, n, _ := strings.Cut(text, " ")
	switch {
	case text == "none":
		return Task{}, nil
	case text == string(SetUp):
		return Task{Kind: SetUp}, nil
	case kind == string(TakeBack):
		if plies, err := strconv.Atoi(n); err == nil && plies >= 1 && plies <= mostPlies && strconv.Itoa(plies) == n {
			return Task{TakeBack, plies}, nil
		}
	}
	return Task{}, fmt.Errorf("%q is no task that was kept", text)
}

// Wish asks for a task. Taking back is done as soon as it is the guest's turn
// or the game is over; setting up only when the game is over. It may be called
// from any goroutine.
func (t *Table) Wish(w Task) error {
	t.mu.Lock()
	defer t.mu.Unlock()
	switch {
	case w.Kind == TakeBack && (w.Plies < 1 || w.Plies > mostPlies):
		return fmt.Errorf("1 or %d plies can be taken back at once; got %d", mostPlies, w.Plies)
	case w.Kind == TakeBack && t.plies < w.Plies:
		return errors.New("there is no move to take back yet")
	case w.Kind == SetUp && !t.resting:
		return errors.New("the men are set up for the next game when this one is over")
	case w.Kind == NoTask:
		return errors.New("say what is wished: a move taken back, or the next game set up")
	case t.wish.Kind != NoTask || t.busy:
		return errors.New("one moment, please: it is being done already")
	}
	t.wish = w
	select {
	case t.wished <- struct{}{}:
	default:
	}
	return nil
}

// granted takes up a wish, if there is one, and puts the task on disk.
func (t *Table) granted(ctx context.Context) (bool, error) {
	t.mu.Lock()
	w := t.wish
	t.wish = Task{}
	if w.Kind == TakeBack {
		w.Plies = min(w.Plies, t.plies)
	}
	t.mu.Unlock()
	if w.Kind == NoTask || w.Kind == TakeBack && w.Plies == 0 {
		return false, nil
	}
	return true, t.begin(ctx, w)
}

// begin puts a task on disk before it is acted on.
func (t *Table) begin(ctx context.Context, w Task) error {
	t.setTask(w)
	text := "to be set up for the next game"
	if w.Kind == TakeBack {
		text = fmt.Sprintf("to be taken back: %d plies", w.Plies)
	}
	return t.record(ctx, Record{State: t.state, Task: w.String(), Text: text})
}

func (t *Table) setTask(w Task) {
	t.mu.Lock()
	t.task, t.busy = w, w.Kind != NoTask
	t.mu.Unlock()
}

// states of the tasks.
var taskState = map[TaskKind]State{TakeBack: Undoing, SetUp: Arranging}

// Rest waits, after the game is over, for somebody to wish for more.
func (t *Table) Rest(ctx context.Context) error {
	for {
		t.mu.Lock()
		some := t.wish.Kind != NoTask
		t.mu.Unlock()
		if some {
			return nil
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-t.wished:
		}
	}
}

func (t *Table) setResting(yes bool) {
	t.mu.Lock()
	t.resting = yes
	t.mu.Unlock()
}

// Wished is what was wished for and not granted yet.
func (t *Table) Wished() TaskKind {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.wish.Kind
}

// Grant does what was wished for while the table rested: after a move was
// taken back the game goes on to its next end; after a set-up it returns, and
// the men stand where the next game begins.
func (t *Table) Grant(ctx context.Context) error {
	some, err := t.granted(ctx)
	if err != nil || !some {
		return err
	}
	return t.loop(ctx, taskState[t.task.Kind], "wished for at the end of the game")
}
