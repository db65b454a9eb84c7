// SPDX-License-Identifier: Apache-2.0

package table

import (
	"boardhand/internal/chess"
	"boardhand/internal/table/journal"
)

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
	task     journal.Task
	progress Progress
	goal     *chess.Position // that the plan under way leads to; nil: none
}

// resumed is a task as an earlier session left it.
func resumed(t journal.Task) job {
	if t.Kind == journal.NoTask {
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
