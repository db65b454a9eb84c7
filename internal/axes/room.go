// SPDX-License-Identifier: Apache-2.0

package axes

import (
	"fmt"
	"math"

	"boardhand/internal/unit"
)

// Clearance is the room that a part has left to what it must not touch, metres; below 0 it lacks
// so much.
type Clearance struct {
	Part    string // "y motor", "left guide of the y axis"
	To      string // "back wall", "carriage"
	Left    unit.Length
	Assumed bool // the rig does not say where the part is
}

// sides name the faces of Inside.
var sides = [3][2]string{{"left wall", "right wall"}, {"front wall", "back wall"}, {"floor", "board"}}

// Outside says whether a motor stands as a whole beyond the outer faces of the walls.
func (p *Places) Outside(m Motor) bool { return p.outside(m.Box) }

func (p *Places) outside(b Box) bool {
	for i := range 2 {
		if b.Max[i] <= p.Inside.Min[i]-p.Depth || b.Min[i] >= p.Inside.Max[i]+p.Depth {
			return true
		}
	}
	return false
}

// Part is a guide, a drive or a motor with its room.
type Part struct {
	Name    string
	Box     Box
	Rides   [2]bool // along with the x and the y axis
	Assumed bool    // the rig does not say where it is
	Within  bool    // on the carriage, or what that runs on: it may be in the carriage's room
	Guide   bool
}

// Parts lists guides, drives and motors.
func (p *Places) Parts() (out []Part) {
	for i, a := range p.Axes {
		rides := [2]bool{false, i == 0}
		for k, at := range a.Rails {
			name := fmt.Sprintf("%s guide of the %s axis", [2][2]string{{"front", "back"}, {"left", "right"}}[i][k], a.Axis)
			out = append(out, Part{name, bar(i, at, a.Ends, a.Diameter, a.Height), rides, a.Lacks("at") || a.Lacks("height") || a.Lacks("length"), i == 0, true})
		}
		ends := [2]unit.Length{a.RowEnds[0] - a.Pulley, a.RowEnds[1] + a.Pulley}
		for _, at := range a.Rows {
			out = append(out, Part{"drive of the " + a.Axis + " axis", bar(i, at, ends, 2*rowHalf, a.RowHeight), rides, a.Lacks("drive_at") || a.Lacks("drive_height"), i == 0, false})
		}
	}
	for _, m := range p.Motors {
		out = append(out, Part{m.Name + " motor", m.Box, m.Rides, m.Assumed, m.Rides == [2]bool{true, true}, false})
	}
	return out
}

// Clearances are the rooms left of all parts: inside the walls over all ways of what they ride
// on, and beside the carriage. A part that stands as a whole outside the walls has none to keep.
func (p *Places) Clearances() (out []Clearance) {
	for _, t := range p.Parts() {
		if !p.outside(t.Box) {
			out = append(out, p.rooms(t)...)
		}
	}
	x, y := p.Axes[0], p.Axes[1]
	return append(out, Clearance{"guides of the x axis", "guides of the y axis, which they must reach", min(y.Rails[0]-x.Ends[0], x.Ends[1]-y.Rails[1]),
		x.Lacks("length") || y.Lacks("at")})
}

// bar is the box of a part along an axis.
func bar(axis int, at unit.Length, ends [2]unit.Length, thick, height unit.Length) (b Box) {
	b.Min[axis], b.Max[axis] = ends[0], ends[1]
	b.Min[1-axis], b.Max[1-axis] = at-thick/2, at+thick/2
	b.Min[2], b.Max[2] = height-thick/2, height+thick/2
	return b
}

// rooms lists those of one part: the least one to walls, floor and board, and that to the
// carriage, where it is not on it.
func (p *Places) rooms(t Part) []Clearance {
	swept, carriage := t.Box, p.Sweep
	for i := range 2 {
		if t.Rides[i] {
			swept.Min[i] += p.Sweep.Min[i] - p.Carriage.Min[i]
			swept.Max[i] += p.Sweep.Max[i] - p.Carriage.Max[i]
			carriage.Min[i], carriage.Max[i] = p.Carriage.Min[i], p.Carriage.Max[i] // it rides along
		}
	}
	least := Clearance{Part: t.Name, Left: unit.Length(math.Inf(1)), Assumed: t.Assumed}
	for i := range 3 {
		for k, left := range [2]unit.Length{swept.Min[i] - p.Inside.Min[i], p.Inside.Max[i] - swept.Max[i]} {
			if t.Guide && !t.Within && i == 1 {
				left += p.Depth // it may be let into the walls
			}
			if left < least.Left {
				least.Left, least.To = left, sides[i][k]
			}
		}
	}
	if t.Within {
		return []Clearance{least}
	}
	carriage.Max[2] = p.Inside.Max[2] // the raised magnet
	return []Clearance{least, {t.Name, "carriage", apart(t.Box, carriage), t.Assumed}}
}

// apart is how far two boxes are apart along the axis along which they are most; below 0 they
// overlap by so much.
func apart(a, b Box) unit.Length {
	most := unit.Length(math.Inf(-1))
	for i := range 3 {
		most = max(most, a.Min[i]-b.Max[i], b.Min[i]-a.Max[i])
	}
	return most
}
