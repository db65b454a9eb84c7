// SPDX-License-Identifier: Apache-2.0

package unit

import (
	"fmt"
	"strings"
)

// Count writes a number of things: "1 step", "2 steps", "3 plies".
func Count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	if stem, ok := strings.CutSuffix(thing, "y"); ok {
		return fmt.Sprintf("%d %sies", n, stem)
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// Rate writes how many a second, in the words that fit its size.
func Rate(perSecond float64) string {
	switch {
	case perSecond >= 1e6:
		return fmt.Sprintf("%.1f million a second", perSecond/1e6)
	case perSecond >= 1e4:
		return fmt.Sprintf("%.0f thousand a second", perSecond/1e3)
	}
	return fmt.Sprintf("%.0f a second", perSecond)
}
