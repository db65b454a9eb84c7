// SPDX-License-Identifier: Apache-2.0

package table

import (
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/table/view"
)

// doubts is what has been said and asked of the board as it is, so that
// nothing is said or asked twice of the same sight.
type doubts struct {
	said    view.Insistence // what was explained last
	refused []chess.Move    // candidates to which a person answered "none of these"
	odd     int             // settled pictures in a row that nothing explains
}

// isRefused says whether a person answered "none of these" to a move.
func (n *doubts) isRefused(m chess.Move) bool { return slices.Contains(n.refused, m) }

// clearDoubts forgets what was said of the board: it has changed.
func (t *Table) clearDoubts() {
	t.doubts = doubts{}
	t.v.NoHand()
}
