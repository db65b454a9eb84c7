// SPDX-License-Identifier: Apache-2.0

package pixels

import (
	"iter"
	"slices"
	"testing"
)

// Two marks a gap apart are one component, a third beyond it is not reached.
func TestFlood(t *testing.T) {
	const w, h = 9, 1
	on := make([]bool, w)
	on[0], on[2], on[8] = true, true, true
	flood := func(gap, most int) []int {
		left := slices.Clone(on)
		left[0] = false
		var got []int
		Flood([]int{0}, func(i int) iter.Seq[int] { return Around(i, gap, w, h) }, func(k int) bool {
			is := left[k]
			left[k] = false
			return is
		}, func(i int) bool {
			got = append(got, i)
			return len(got) < most
		})
		return got
	}
	if got := flood(2, 9); !slices.Equal(got, []int{0, 2}) {
		t.Errorf("over a gap of one: %v", got)
	}
	if got := flood(1, 9); !slices.Equal(got, []int{0}) {
		t.Errorf("over no gap: %v", got)
	}
	if got := flood(2, 1); !slices.Equal(got, []int{0}) {
		t.Errorf("ended after one: %v", got)
	}
}

// Of a cross only the middle has six marked neighbours of nine less one row.
func TestSolid(t *testing.T) {
	const w = 5
	marked := make([]bool, w*w)
	for y := 1; y < 4; y++ {
		for x := 1; x < 4; x++ {
			marked[y*w+x] = true
		}
	}
	got := Solid(marked, w, Box{0, 0, w, w})
	for i, is := range got {
		x, y := i%w, i/w
		inner := x >= 1 && x < 4 && y >= 1 && y < 4 && (x == 2 || y == 2)
		if is != inner {
			t.Errorf("pixel %d, %d: %v", x, y, is)
		}
	}
}
