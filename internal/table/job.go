// SPDX-License-Identifier: Apache-2.0

package table

import "boardhand/internal/chess"

// Progress is how far the table is with its task.
type Progress string

// The states of a task. A task on disk was broken off by the break; one that has
// ended is on disk as "none".
const (
	Idle      Progress = "idle"       // there is no task
	Intact    Progress = "intact"     // the board is as the table left it: go on
	BrokenOff Progress = "broken_off" // somebody or a fault came in between: look first
	Arranged  Progress = "arranged"   // the set-up has ended: the pieces stand where the next game begins
)

// job is the table's task with its state.
type job struct {
	task     Task
	progress Progress
	goal     *chess.Position // that the plan under way leads to; nil: none
}

// resumed is a task as an earlier session left it.
func resumed(t Task) job {
	if t.Kind == NoTask {
		return job{progress: Idle}
	}
	return job{task: t, progress: BrokenOff}
}

// breakOff is the state once the board may be other than the task left it.
func (p Progress) breakOff() Progress {
	if p == Intact {
		return BrokenOff
	}
	return p
}

// look is the state once the board was looked at.
func (p Progress) look() Progress {
	if p == BrokenOff {
		return Intact
	}
	return p
}

// Task is what is being done besides moves.
func (t *Table) Task() Task {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.job.progress == Arranged {
		return Task{}
	}
	return t.job.task
}

// Next is what was asked of the next game when this one was set up for it.
func (t *Table) Next() Task {
	if !t.Arranged() {
		return Task{}
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
func (t *Table) setJob(w Task, p Progress) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.job.task, t.job.progress = w, p
}

// looked notes that the board was looked at.
func (t *Table) looked() { t.setJob(t.job.task, t.job.progress.look()) }
