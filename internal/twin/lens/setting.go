// SPDX-License-Identifier: Apache-2.0

package lens

import (
	"math/rand/v2"

	"boardhand/internal/frame"
)

// Setting is what a studio is built from besides the rig.
type Setting struct {
	Mount    Mount
	Height   func(frame.Spot[frame.Board]) float64 // of the board's surface over the plane of the field, m
	Chance   *rand.Rand
	Troubles Troubles
}

// Mount is how a camera truly hangs and what its lens truly is, where that
// differs from the rig file.
type Mount struct {
	Shift      frame.Point[frame.Board] // from where the rig file hangs it, m
	Turn       [3]float64               // rotation vector in the camera frame, rad
	FocalScale float64                  // true focal length over the nominal
	K1, K2     float64                  // radial distortion
	PrincipalX float64                  // principal point from the picture's centre, px
	PrincipalY float64
}

// Troubles are what goes wrong with light and camera. A stream of chance that is
// nil means that it does not happen.
type Troubles struct {
	Drops    bool // some pictures do not arrive
	Bumps    bool // somebody knocks against the camera
	Switches bool // a lamp is switched, a cloud passes

	LowLamp  *rand.Rand // the lamp stands low beside the board
	Onlooker *rand.Rand // a person leans in between the lamp and the board
	Glare    *rand.Rand // something bright is mirrored in the varnish
	Losing   *rand.Rand // pictures do not arrive, some in a row
	Freezing *rand.Rand // the same picture is delivered again
}
