// SPDX-License-Identifier: Apache-2.0

package main

import "testing"

// TestWearStaysNearOne: a worn face keeps most of its colour, and is not
// the same all over.
func TestWearStaysNearOne(t *testing.T) {
	name := "roomt07"
	s, err := newSession(diceFor(name), name)
	if err != nil {
		t.Fatal(err)
	}
	w := s.room.wear
	low, high, near := float32(9), float32(0), 0
	for _, c := range w.tone {
		low, high = min(low, c[1]), max(high, c[1])
		if c[1] > 0.7 && c[1] < 1.35 {
			near++
		}
	}
	if low < 0.1 || high > 2.2 || high-low < 0.2 || near < len(w.tone)*9/10 {
		t.Errorf("the face's colour is %.2f to %.2f of what it was; %d of %d places near it", low, high, near, len(w.tone))
	}
	if w.at(vec{-w.half - 50, 0, 0}) != w.at(vec{-w.half, 0, 0}) {
		t.Error("outside of the map is not its rim")
	}
}
