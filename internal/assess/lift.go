// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"

	"boardhand/internal/coupling"
)

// judgeContact asks whether the sprung magnet follows the warp.
func (s *study) judgeContact() Check {
	c := Check{ID: "lift.contact", Title: "Magnet pressed to the warped board", Unit: "N",
		Formula: "preload − rate·warp/2, least; preload + rate·warp/2 + axial pull, most", Source: "Hooke's law; " + ownGeometry, Range: "springs within their travel"}
	least, _ := coupling.Contact(s.Rig)
	warp, l := s.Rig.Board.Warp, s.Rig.Lift
	if l.Spring <= 0 && warp > 0 {
		c = c.atLeast(0, leastPress, leastPress)
		c.Why = fmt.Sprintf("there is no spring: over a warp of %v the magnet presses against the board here and hangs %v below it there; the lift stalls or breaks itself", warp, warp/2)
		c.Explain = "A thin sheet is never flat. A rigid lift is set for one height: where the sheet bows down the magnet is driven into it and the axes jam, where it bows up the gap opens and the piece is lost. A soft spring under the magnet follows the sheet at nearly the same force."
		return c
	}
	c = c.atLeast(least, leastPress, 2*leastPress)
	c.Why = fmt.Sprintf("over a warp of %v the spring presses with %.2f to %.2f N, up to %.2f N with a piece above", warp, least, 2*float64(l.Preload)-least, s.Pressed())
	if way := float64(l.Preload) / float64(l.Spring); l.Spring > 0 && way > mostTravel && c.Verdict == Pass {
		c.Verdict = Warn
		c.Why += fmt.Sprintf("; pressed to %v a spring of %v is %.0f mm shorter, more than a small one bears", l.Preload, l.Spring, way*1e3)
	}
	c.Explain = fmt.Sprintf("The spring (%v) is set to %v under a flat board. Where the sheet bows away by half the warp it loses rate × warp/2 = %.2f N; below zero the magnet no longer follows and the gap opens. Where it bows in it gains as much, and the axes feel the rubbing: %.2f × %.2f N.",
		l.Spring, l.Preload, float64(l.Spring)*float64(warp)/2, l.Friction, s.Pressed())
	return c
}
