// SPDX-License-Identifier: Apache-2.0

package main

import "testing"

// TestSwitched: most of the reader's numbers can be switched at run time; the
// rewritten reader is built by score vary, which reads with it first.
func TestSwitched(t *testing.T) {
	t.Chdir("../..")
	numbers, err := allNumbers(false)
	if err != nil {
		t.Fatal(err)
	}
	files, can, err := switched(numbers)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for i, ok := range can {
		if ok {
			n++
		} else {
			t.Logf("built for itself: %s", numbers[i].key())
		}
	}
	t.Logf("%d of %d numbers switched, %d files rewritten", n, len(numbers), len(files))
	if n*10 < 8*len(numbers) {
		t.Errorf("only %d of %d numbers can be switched", n, len(numbers))
	}
}
