// SPDX-License-Identifier: Apache-2.0

package table

import (
	"sync"
	"time"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/sight"
	"boardhand/internal/table/carriage"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/model"
	"boardhand/internal/table/view"
)

// Parts are what a table is made of.
type Parts struct {
	Camera  Camera
	Gantry  Gantry
	Guest   Guest
	Eye     Eye
	Planner Planner
	Player  Player
	Log     Log
	Lookout Lookout // what watches the board while a piece is carried; a part that is missing: nobody does
}

// Settings are what the table knows of the machine, and how it plays.
type Settings struct {
	Machine  Machine
	Gearing  *carry.Gearing // from the board to the motors
	Patience time.Duration  // between tries when the camera is silent
	Slow     time.Duration  // a reading that takes longer is told of; 0: never
	MaxPlies int            // stop there; 0: no limit
	Suspects *Suspects      // of this machine; nil: none is kept
}

// Table is one game being played.
type Table struct {
	p Parts
	s Settings
	m *model.Model
	d *desk.Desk
	v *view.View
	c *carriage.Carriage

	replans  int                             // of the current move
	tries    int                             // of the current move to mend itself
	stood    map[chess.Square]sight.Presence // before the last plan: who stands beside its way, and some others
	first    sight.Reading                   // the reading that woke Reading
	failure  error                           // why Trouble
	putOffs  int                             // carries given up since the last finished move
	failures int                             // since the last finished move
	doubts   doubts

	saidNarrow bool // the guest has heard that the tray is too narrow

	mu  sync.Mutex
	job job
}

// Game is the game so far.
func (t *Table) Game() *chess.Game { return t.m.Game }

// Unlisted lists transitions made that the state table does not have: a fault
// of the program, for tests.
func (t *Table) Unlisted() []string { return t.d.Unlisted }

// Task is what is being done besides moves.
func (t *Table) Task() journal.Task {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.job.progress == Arranged {
		return journal.Task{}
	}
	return t.job.task
}

// Next is what was asked of the next game when this one was set up for it.
func (t *Table) Next() journal.Task {
	if !t.Arranged() {
		return journal.Task{}
	}
	return t.job.task
}

// Arranged says whether the pieces stand where the next game begins.
func (t *Table) Arranged() bool { return t.progress() == Arranged }

func (t *Table) progress() Progress {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.job.progress
}

// setJob begins a task, goes on with it, or ends it.
func (t *Table) setJob(w journal.Task, p Progress) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.job.task, t.job.progress = w, p
}

// looked notes that the board was looked at.
func (t *Table) looked() { t.setJob(t.job.task, t.job.progress.look()) }
