// SPDX-License-Identifier: Apache-2.0

package main

import (
	"image"
	"testing"
)

// TestJoin unites what is cheaper drawn at once, and leaves the rest.
func TestJoin(t *testing.T) {
	near := []image.Rectangle{image.Rect(0, 0, 100, 100), image.Rect(110, 0, 200, 100), image.Rect(900, 900, 1000, 1000)}
	if got := join(near, 5000); len(got) != 2 || got[0] != image.Rect(0, 0, 200, 100) {
		t.Errorf("%v", got)
	}
	if got := join([]image.Rectangle{image.Rect(0, 0, 10, 10), image.Rect(900, 0, 910, 10), image.Rect(0, 900, 10, 910)}, 1<<20); len(got) != 1 {
		t.Errorf("where a run costs more than the sheet, %v", got)
	}
}
