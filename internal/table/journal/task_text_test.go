// SPDX-License-Identifier: Apache-2.0

package journal

import "testing"

func TestTasksAreKeptAsText(t *testing.T) {
	for _, task := range []Task{{}, {Kind: SetUp}, {Kind: TakeBack, Plies: 1}, {Kind: TakeBack, Plies: 2},
		{Kind: SetUp, Start: "4k3/8/8/8/8/8/8/4K2R w K - 0 1"}, {Kind: SetUp, Side: "white", Time: 5e9, Start: "4k3/8/8/8/8/8/8/4K2R b K - 3 40"}} {
		if back, err := ParseTask(task.String()); err != nil || back != task {
			t.Errorf("%v came back as %v, %v", task, back, err)
		}
	}
	for _, text := range []string{"", "take_back", "take_back 0", "take_back 3", "take_back  1", "set_up 1", "dance", "set_up from nowhere", "take_back 1 from 4k3/8/8/8/8/8/8/4K2R w K - 0 1"} {
		if task, err := ParseTask(text); err == nil {
			t.Errorf("%q was read as %v", text, task)
		}
	}
}

// What is read as a task is written as it was.
func FuzzParseTask(f *testing.F) {
	for _, s := range []string{"none", "take_back 1", "set_up", "set_up white 3s", "set_up 1", "set_up white white", "set_up white 3s from 4k3/8/8/8/8/8/8/4K2R w K - 0 1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if task, err := ParseTask(text); err == nil && task.String() != text {
			t.Errorf("%q was read as %q", text, task)
		}
	})
}
