// SPDX-License-Identifier: Apache-2.0

package physics

import (
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/twin/room"
)

// unsupported lets a piece fall that slid where nothing holds it: down the
// trapdoor, or over the edge of the machine's top.
func (t *Table) unsupported(b *Piece) {
	if t.overHole(b) {
		b.Place, b.vel = Gone, frame.Spot[frame.Board]{}
		return
	}
	if out, over := t.overEdge(b.At); over {
		b.At = b.At.Add(out.Scale(b.Height / 2)) // tips outwards and lies below
		b.Place, b.vel, b.Z = Beside, frame.Spot[frame.Board]{}, room.TableZ(t.rig)
		b.Fallen, b.Heading, b.Rock, b.rockRate = true, out, 0, 0
		t.set.Tell(Toppled)
	}
}

// overHole says whether a piece falls down the trapdoor. What is left of the
// board under its base ends at the chord between the two places where the rims
// of base r and hole R cross; the centre of mass at distance d from the hole's
// middle is beyond that chord when d² < R² − r². A base as wide as the hole
// never falls.
// Source: statics of a disc over a round hole, elementary geometry; exact.
func (t *Table) overHole(b *Piece) bool {
	m := t.rig.Removal
	if m.Mode != "chute" {
		return false
	}
	hole := frame.Spot[frame.Board]{X: float64(m.Chute[0]), Y: float64(m.Chute[1])}
	d, r := b.At.Distance(hole), holeShare*float64(t.rig.Board.Square)
	return d*d < r*r-b.Base*b.Base
}

// overEdge says whether a place is beyond the machine's top, and which way out.
func (t *Table) overEdge(at frame.Spot[frame.Board]) (out frame.Spot[frame.Board], over bool) {
	half := room.Top(t.rig)
	most := 0.0
	for i, past := range [4]float64{-half[0] - at.X, at.X - half[1], -half[2] - at.Y, at.Y - half[3]} {
		if past > most {
			most, over = past, true
			out = [4]frame.Spot[frame.Board]{{X: -1}, {X: 1}, {Y: -1}, {Y: 1}}[i]
		}
	}
	return out, over && !math.IsNaN(most)
}
