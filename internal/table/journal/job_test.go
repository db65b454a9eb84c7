// SPDX-License-Identifier: Apache-2.0

package journal

import "testing"

// A task on disk was broken off; looking at the board mends that, and only that.
func TestJobStates(t *testing.T) {
	if j := NewJob(Task{}); j.progress != Idle {
		t.Errorf("nothing on disk gave %s", j.progress)
	}
	j := NewJob(Task{Kind: TakeBack, Plies: 1})
	if j.progress != BrokenOff {
		t.Errorf("a task on disk gave %s", j.progress)
	}
	if got := j.progress.look().look(); got != Intact {
		t.Errorf("looked at, it is %s", got)
	}
	if got := j.progress.look().breakOff(); got != BrokenOff {
		t.Errorf("broken off, it is %s", got)
	}
	for _, p := range []Progress{Idle, Arranged} {
		if got := p.breakOff().look(); got != p {
			t.Errorf("%s became %s", p, got)
		}
	}
}
