// SPDX-License-Identifier: Apache-2.0

package journal

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"boardhand/internal/chess"
)

// Task is a longer job that must be finished even after a break.
type Task struct {
	Kind  TaskKind
	Plies int           // TakeBack: still to be taken back
	Side  string        // SetUp: the machine's in the next game; "" as before
	Time  time.Duration // SetUp: thinking time in the next game; 0 as before
	Start string        // SetUp: FEN of the next game's first position; "": the usual one
}

// Position is where the next game begins.
func (t Task) Position() chess.Position {
	if pos, err := chess.ParseFEN(t.Start); err == nil {
		return pos
	}
	return chess.Start()
}

// from stands before a first position.
const from = " from "

// TaskKind is a kind of task.
type TaskKind string

// The kinds of task.
const (
	NoTask   TaskKind = ""
	TakeBack TaskKind = "take_back" // the last moves are taken back
	SetUp    TaskKind = "set_up"    // the pieces go where the next game begins
)

// String is the task as it is kept, like "take_back 2" or "set_up white 5s from FEN";
// ended tasks are kept as "none".
func (t Task) String() string {
	switch t.Kind {
	case NoTask:
		return "none"
	case TakeBack:
		return fmt.Sprintf("%s %d", t.Kind, t.Plies)
	}
	words := []string{string(t.Kind)}
	if t.Side != "" {
		words = append(words, t.Side)
	}
	if t.Time != 0 {
		words = append(words, t.Time.String())
	}
	text := strings.Join(words, " ")
	if t.Start != "" {
		text += from + t.Start
	}
	return text
}

// ParseTask reads what String wrote.
func ParseTask(text string) (Task, error) {
	var t Task
	var head string
	head, t.Start, _ = strings.Cut(text, from)
	words := strings.Split(head, " ")
	switch {
	case text == "none":
		return t, nil
	case words[0] == string(SetUp):
		t.Kind = SetUp
		for _, w := range words[1:] {
			if w == "white" || w == "black" {
				t.Side = w
			} else if d, err := time.ParseDuration(w); err == nil {
				t.Time = d
			}
		}
	case words[0] == string(TakeBack) && len(words) == 2:
		t.Kind = TakeBack
		if n, err := strconv.Atoi(words[1]); err == nil && n >= 1 && n <= mostPlies {
			t.Plies = n
		}
	}
	if _, err := chess.ParseFEN(t.Start); t.Start != "" && err != nil {
		return Task{}, fmt.Errorf("a task that was kept: %w", err)
	}
	if t.Kind == NoTask || t.String() != text || t.Kind == TakeBack && t.Plies == 0 {
		return Task{}, fmt.Errorf("%q is no task that was kept", text)
	}
	return t, nil
}

// TaskState is the state in which a task is done.
var TaskState = map[TaskKind]State{TakeBack: Undoing, SetUp: Arranging}

// Turn is the turn to the state in which a task is done.
func (t Task) Turn() Turn {
	what := map[TaskKind]Happening{TakeBack: BackWanted, SetUp: SetUpWanted}[t.Kind]
	return Turn{TaskState[t.Kind], Record{What: what, Task: t.String()}}
}
