// SPDX-License-Identifier: Apache-2.0

package frame

import (
	"slices"
	"testing"
)

// What is left of a path begins where it comes nearest, and keeps its corners.
func TestAhead(t *testing.T) {
	type spot = Spot[Board]
	path := []spot{{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 4, Y: 4}}
	for _, c := range []struct {
		at   spot
		want []spot
	}{
		{spot{X: -1, Y: 0}, []spot{{}, {}, {X: 4}, {X: 4, Y: 4}}},
		{spot{X: 1, Y: 0.5}, []spot{{X: 1}, {X: 4}, {X: 4, Y: 4}}},
		{spot{X: 5, Y: 3}, []spot{{X: 4, Y: 3}, {X: 4, Y: 4}}},
		{spot{X: 9, Y: 9}, []spot{{X: 4, Y: 4}, {X: 4, Y: 4}}},
	} {
		if got := Ahead(path, c.at); !slices.Equal(got, c.want) {
			t.Errorf("from %v: %v, want %v", c.at, got, c.want)
		}
	}
	if got := Ahead[Board](nil, spot{}); got != nil {
		t.Errorf("of no path: %v", got)
	}
}
