// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/pixels"
)

// compare prepares the comparison with a memory for the pixels of the box. It
// holds until the next one.
func (e *eye) compare(m *background.Memory, now *pixels.Image, air *background.Conditions) *background.Likelihood {
	if n := 4 * len(now.L); len(e.drifts) != n {
		e.drifts = make([]float32, n)
	}
	return background.NewLikelihood(m, now, air, e.ground.Box, e.drifts)
}
