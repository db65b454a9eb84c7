// SPDX-License-Identifier: Apache-2.0

package session

import (
	"boardhand/internal/rig"
	"boardhand/internal/sight"
)

// LensCheck compares the first picture of a board with what bring-up measured of the camera.
type LensCheck struct{ isDone bool }

// Words say once, after the picture in which the board was found, that it is not seen through the
// lens that bring-up measured, and what to do; "" where there is nothing to be said.
func (c *LensCheck) Words(r *rig.Rig, eye *sight.Reader) string {
	view, isFound := eye.View()
	if !isFound || c.isDone {
		return ""
	}
	c.isDone = true
	if change, isChanged := r.LensChanged(view); isChanged {
		return change.Words(r.Path)
	}
	return ""
}
