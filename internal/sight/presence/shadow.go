// SPDX-License-Identifier: Apache-2.0

package presence

import "boardhand/internal/sight/cast"

// shadowOf is what the shadow says, nats, that a piece at a trace would cast, or the lack of
// it: lamplight between two shadows looks like a white piece, but shades nothing.
func (w *Inspection) shadowOf(t Trace) float64 {
	if !w.isAsked {
		w.shadows, w.isAsked = cast.Of(w.Scene, w.Raw, w.Model.Even.Image), true
	}
	return w.shadows.Speak(t.At)
}
