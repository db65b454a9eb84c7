// SPDX-License-Identifier: Apache-2.0

package physics

import (
	"math/rand/v2"

	"boardhand/internal/unit"
)

// Setting is what a table is made of besides the rig.
type Setting struct {
	DriveBr, BaseBr unit.FluxDensity // remanence of the drive magnet; mean of the bases'
	BaseScatter     float64          // standard deviation of a base's remanence over the mean
	FrictionScatter float64          // standard deviation of a piece's friction over the rig's
	Bow             [4]float64       // shape of the warp: saddle, twist, dish, tilt of the bow; scaled to the rig's peak to valley
	HasWideBases    bool             // the bases are far wider than the rig file says
	Chance          *rand.Rand
	Tell            func(Event) // hears of what happens to pieces that should not
}

// Event is something that an umpire with perfect eyes would note.
type Event uint8

// The events.
const (
	Collided Event = iota // two pieces touched, and the machine caused it
	Toppled               // a piece fell over
	Slipped               // the magnet lost the piece it held
	Dragged               // the magnet moved a piece that was not to move
)
