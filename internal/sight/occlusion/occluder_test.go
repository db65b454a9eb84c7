// SPDX-License-Identifier: Apache-2.0

package occlusion

import (
	"testing"

	"boardhand/internal/sight/scene"
)

// What was seen of a table beside a board, which a smeared first picture had shown without its
// grain, in a picture without a hand, and what a hand at the rim leaves at the least. mm².
func TestHandHidesBoard(t *testing.T) {
	const square = 43 * 43 // mm²
	for _, c := range []struct {
		name string
		p    Occluder
		is   bool
	}{
		{"the table, with a rook that leans out over the edge", Occluder{Patch: scene.Patch{Area: 13145, Sheet: 431, Inside: 31, OnPieces: 431}, rim: true, brink: true}, false},
		{"an arm whose fingers end on a square of the edge", Occluder{Patch: scene.Patch{Area: 13145, Sheet: 431, Inside: 400, OnPieces: 200}, rim: true, brink: true, ground: 231}, true},
	} {
		if got := c.p.isHand(square); got != c.is {
			t.Errorf("%s is a hand: %v", c.name, got)
		}
	}
}
