// SPDX-License-Identifier: Apache-2.0

package journal

import "testing"

func TestTasksAreKeptAsText(t *testing.T) {
	for _, task := range []Task{{}, {Kind: SetUp}, {Kind: TakeBack, Plies: 1}, {Kind: TakeBack, Plies: 2}} {
		if back, err := ParseTask(task.String()); err != nil || back != task {
			t.Errorf("%v came back as %v, %v", task, back, err)
		}
	}
	for _, text := range []string{"", "take_back", "take_back 0", "take_back 3", "take_back  1", "set_up 1", "dance"} {
		if task, err := ParseTask(text); err == nil {
			t.Errorf("%q was read as %v", text, task)
		}
	}
}

// What is read as a task is written as it was.
func FuzzParseTask(f *testing.F) {
	for _, s := range []string{"none", "take_back 1", "set_up", "set_up white 3s", "set_up 1", "set_up white white"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if task, err := ParseTask(text); err == nil && task.String() != text {
			t.Errorf("%q was read as %q", text, task)
		}
	})
}
