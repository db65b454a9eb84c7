// SPDX-License-Identifier: Apache-2.0

package view

import "boardhand/internal/sight"

// RemindAfter is how many settled pictures of a board that stays as it is go by
// before it is said again what is missing: half a minute at one look in three
// seconds. Doubling it lets a person wait longer who did not hear it.
const RemindAfter = 8

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

// Flickers is after how many settled pictures other squares are worth another word.
const Flickers = 3
