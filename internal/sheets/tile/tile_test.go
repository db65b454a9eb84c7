// SPDX-License-Identifier: Apache-2.0

package tile

import "testing"

// A tile is where its name says: the squares of all tiles, laid as the marks say, are those of
// the board.
func TestTilesLieWhereTheMarksSay(t *testing.T) {
	g := For(456, 456, [2]float64{210, 297})
	if g.Cols*g.Rows != 6 || g.Cols != 3 {
		t.Errorf("456 × 456 mm take %d × %d pages of A4, want 3 × 2", g.Cols, g.Rows)
	}
	if covered := float64(g.Cols)*(g.W-Overlap) + Overlap; covered < 456 {
		t.Errorf("the tiles cover %.1f mm of 456", covered)
	}
}
