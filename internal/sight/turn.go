// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"boardhand/internal/optics"
)

// turn takes the eye to another view, after a bump: everything remembered by
// pixel is carried over through the board plane, and for the pieces through a
// plane at half their height.
func (e *eye) turn(v optics.View) {
	old := e.ground
	const slight = 0.5                          // plate pixels: the table, a little lower, moves about as far as the board
	e.around = e.around && e.travel(v) < slight // and otherwise after more
	at := e.spots()
	e.look(v)
	if e.phase() == meeting {
		e.place(at)
		return
	}
	sigma := e.sigmas()
	e.place(at)
	e.setSigmas(sigma)
	e.model.turn(&e.scene, old)
}
