// SPDX-License-Identifier: Apache-2.0

package view

import "boardhand/internal/sight"

// Insistence decides when something is said again.
type Insistence struct {
	about *sight.Reading // nil: nothing was said yet
	count int            // settled pictures since it was said
}

// IsDue says whether what is missing should be said of a settled reading: when
// it is of another kind than the last one, and again after a while. Which
// squares differ may flicker from picture to picture.
func (n *Insistence) IsDue(r sight.Reading) bool {
	n.count++
	if n.about != nil && n.about.State == r.State && (Alike(*n.about, r) || n.count < Flickers) && n.count < RemindAfter {
		return false
	}
	n.about, n.count = &r, 0
	return true
}
