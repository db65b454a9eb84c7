// SPDX-License-Identifier: Apache-2.0

package room

import (
	"math"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/rig"
)

// Pieces beside the board stand beyond the machine's top, apart from each
// other, each colour on its own side, whichever way the picture lies.
func TestShelfIsBesideTheMachine(t *testing.T) {
	for _, side := range []string{"bottom", "left"} {
		r := rig.Default()
		r.Camera.WhiteSide = side
		top := Top(r)
		for n := range 16 {
			white, black := Shelf(r, chess.White, n), Shelf(r, chess.Black, n)
			if in := -top[0] < white.X && white.X < top[1] && -top[2] < white.Y && white.Y < top[3]; in {
				t.Errorf("%s: piece %d stands on the machine, at %v", side, n, white)
			}
			if white.Dot(black) >= 0 && math.Abs(white.Distance(black)) < 2*top[0] {
				t.Errorf("%s: both colours stand on one side: %v and %v", side, white, black)
			}
			for m := range n {
				if d := white.Distance(Shelf(r, chess.White, m)); d < float64(r.Pieces.Of(chess.King).Base) {
					t.Errorf("%s: pieces %d and %d stand %.1f mm apart", side, m, n, d*1e3)
				}
			}
		}
	}
	if z := TableZ(rig.Default()); z >= 0 {
		t.Errorf("the table is %.0f mm over the board", z*1e3)
	}
}
