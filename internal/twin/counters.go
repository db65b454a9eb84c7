// SPDX-License-Identifier: Apache-2.0

package twin

// Counters are what an umpire with perfect eyes would have noted.
type Counters struct {
	Collisions int // contacts between pieces that the machine caused
	Slips      int // pieces the magnet lost on the way
	Drags      int // pieces moved by the magnet that were not to move
	Stalls     int // strokes in which an axis could not follow
	Toppled    int // pieces that fell over
	Touches    int // times the piece that the magnet moved ran into a hand
	Strokes    int // strokes with the magnet raised
}
