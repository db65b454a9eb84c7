// SPDX-License-Identifier: Apache-2.0

package journal

import "sync"

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

// Job is the task of a table with its state; onlookers may ask for both.
type Job struct {
	mu       sync.Mutex
	task     Task
	progress Progress
}

// NewJob is a task as an earlier session left it.
func NewJob(t Task) *Job {
	if t.Kind == NoTask {
		return &Job{progress: Idle}
	}
	return &Job{task: t, progress: BrokenOff}
}

// Task is what is being done besides moves.
func (j *Job) Task() Task {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.progress == Arranged {
		return Task{}
	}
	return j.task
}

// Next is what was asked of the next game when this one was set up for it.
func (j *Job) Next() Task {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.progress != Arranged {
		return Task{}
	}
	return j.task
}

// State is how far it is.
func (j *Job) State() Progress {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.progress
}

// Set begins a task, goes on with it, or ends it.
func (j *Job) Set(w Task, p Progress) {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.task, j.progress = w, p
}

// Looked notes that the board was looked at.
func (j *Job) Looked() { j.Set(j.task, j.progress.look()) }

// BreakOff notes that the board may be other than the task left it.
func (j *Job) BreakOff() { j.Set(j.task, j.progress.breakOff()) }

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
