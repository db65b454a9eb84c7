// SPDX-License-Identifier: Apache-2.0

package places

import "boardhand/internal/rig"

// Words names a place as the page and the drawing do; slots is how many the
// tray has.
func (p Place) Words(slots int) string {
	switch {
	case p >= Slot:
		return "slot " + rig.SlotName(int(p-Slot), slots)
	case p == Person:
		return "beside the board"
	case p == Chute:
		return "the drawer"
	}
	return p.String()
}
