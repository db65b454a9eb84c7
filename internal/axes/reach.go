// SPDX-License-Identifier: Apache-2.0

package axes

import (
	"boardhand/internal/frame"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Side is how far the magnet's axis gets to one side of the field's centre.
type Side struct {
	Name  string // "left" (file a), "right", "front" (rank 1), "back"
	Reach unit.Length
	By    string // what stops it: "travel" or "walls"
}

// Sides are the four sides: left, right, front, back. The axes' travel ends
// them, or the carriage's body at a wall; half the backlash is left for taking
// it up. Range: axes parallel to the board.
func Sides(r *rig.Rig) [4]Side {
	x, y, w, c := r.Axis.X, r.Axis.Y, r.Walls, r.Carriage
	return [4]Side{
		side("left", x.Origin, stop{w.Left, c.Left}, x.Backlash),
		side("right", x.Travel-x.Origin, stop{w.Right, c.Right}, x.Backlash),
		side("front", y.Origin, stop{w.Front, c.Front}, y.Backlash),
		side("back", y.Travel-y.Origin, stop{w.Back, c.Back}, y.Backlash),
	}
}

// stop is a wall, 0 when not given, and how far the carriage's body sticks out
// towards it.
type stop struct{ wall, body unit.Length }

func side(name string, travel unit.Length, at stop, backlash unit.Length) Side {
	s := Side{Name: name, Reach: travel, By: "travel"}
	if way := at.wall - at.body; at.wall > 0 && way < travel {
		s.Reach, s.By = way, "walls"
	}
	s.Reach -= backlash / 2
	return s
}

// Reach is the rectangle the magnet's axis can go to. Frame Board, metres.
func Reach(r *rig.Rig) frame.Rect[frame.Board] {
	s := Sides(r)
	reach := frame.Rect[frame.Board]{
		Min: frame.Spot[frame.Board]{X: -float64(s[0].Reach), Y: -float64(s[2].Reach)},
		Max: frame.Spot[frame.Board]{X: float64(s[1].Reach), Y: float64(s[3].Reach)},
	}
	if r.Built != nil {
		return reach.Meet(r.Built.Inside)
	}
	return reach
}

// Way is one side of the reachable rectangle with what is asked of it, metres from
// the field's centre.
type Way struct {
	Side
	Need   unit.Length // how far it must get
	Remove bool        // the need comes from a removal place
}

// Short is by how much the side falls short; negative: room left.
func (w Way) Short() unit.Length { return w.Need - w.Reach }

// Ways are the four sides with what they need for the field and its captures. lead is
// how far the magnet runs past a square.
func Ways(r *rig.Rig, lead unit.Length) (out [4]Way) {
	for i, side := range Sides(r) {
		field := Outermost(r, i)
		out[i] = Way{Side: side, Need: field + lead}
		if take := removal(r, i); take > field {
			out[i].Need, out[i].Remove = take+lead, true
		}
	}
	return out
}

// Outermost is how far from the field's centre, to a side, the middle of a square
// at its edge is.
func Outermost(r *rig.Rig, side int) unit.Length {
	return unit.Length(along(r, side)-1) / 2 * r.Board.Square
}

// along is how many squares lie between a side and the one across.
func along(r *rig.Rig, side int) int {
	if side < 2 {
		return r.Board.Files
	}
	return r.Board.Ranks
}

// removal is how far a side must reach for captured pieces.
func removal(r *rig.Rig, i int) unit.Length {
	x, y := r.Board.Half()
	switch r.Removal.Mode {
	case "tray":
		if i < 2 {
			return x + r.Removal.Gap
		}
		return y * unit.Length(1-1/float64(max(r.Removal.Slots, 1)))
	case "chute":
		at := [4]unit.Length{-r.Removal.Chute[0], r.Removal.Chute[0], -r.Removal.Chute[1], r.Removal.Chute[1]}
		return at[i]
	}
	return 0
}
