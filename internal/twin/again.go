// SPDX-License-Identifier: Apache-2.0

package twin

import "boardhand/internal/twin/physics"

// SetUp clears the table and sets another position up, as people put pieces, on
// the same machine: its axes, its play and its pose stay as they are. What the
// umpire noted before is forgotten.
func (w *World) SetUp(fen string) error {
	w.mu.Lock()
	defer w.mu.Unlock()
	pos, err := startPosition(fen)
	if err != nil {
		return err
	}
	w.table.Clear()
	w.ills, w.carriage.Lift = map[*physics.Piece]Fault{}, 0
	w.setPieces(pos, Options{})
	w.afflict()
	w.person = newPerson(w, pos)
	w.settle()
	w.count = Counters{}
	w.keep()
	return w.unkept
}
