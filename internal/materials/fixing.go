// SPDX-License-Identifier: Apache-2.0

package materials

import (
	"fmt"
	"math"

	"boardhand/internal/axes"
	"boardhand/internal/unit"
)

// Hole is one to be drilled or sawn: its middle and its diameter.
type Hole struct {
	X, Y     unit.Length
	Diameter unit.Length
	For      string
}

// Fixing is what is drilled so that the board lies fast and the lift finds its place.
type Fixing struct {
	Board  []Hole      // through the board; frame Board: from the field's centre
	Block  unit.Length // side of the blocks that the board is screwed to; 0: none
	Plate  []Hole      // through the carriage's plate, from the magnet's axis
	Lacks  string      // why nothing holds the board; "" where something does
	Ledge  unit.Length // by how much the board's sheet ends inside the walls, where most; 0: nowhere
	Sweeps unit.Length // how far from the centre the carriage gets to the front or back, where most
}

// fixing finds where the board is screwed down: to blocks in the corners between the walls
// and along the front and back ones, where neither the carriage nor the axis that it runs on
// gets. Along the left and right walls that axis does.
func (b *builder) fixing() {
	f := &b.list.Fixing
	b.plate()
	if r := b.r; r.Removal.Mode == "chute" {
		f.Board = append(f.Board, Hole{r.Removal.Chute[0], r.Removal.Chute[1], trapdoor * r.Pieces.Widest(), "trapdoor"})
	}
	w := b.r.Walls
	if in := w.Inside(); min(in[0], in[1]) <= 0 {
		f.Lacks = "the rig file gives no whole [walls]"
		return
	}
	sides, c := axes.Sides(b.r), b.r.Carriage
	x, y := b.r.Board.Half()
	wide, deep := x+b.r.Board.Border, y+b.r.Board.Border
	front, back := sides[2].Reach+c.Front, sides[3].Reach+c.Back
	f.Sweeps = max(front, back)
	f.Ledge = max(0, w.Left-wide, w.Right-wide, w.Front-deep, w.Back-deep)
	switch free := min(w.Front-front, w.Back-back); {
	case f.Ledge > 0:
		f.Lacks = fmt.Sprintf("the board's sheet ends up to %s inside the walls: make board.border as much wider, or lay it into a frame that lies on them", f.Ledge)
	case free < blockSide:
		f.Lacks = fmt.Sprintf("between carriage and front or back wall there are %s, a block takes %s: hold the board down at its edge", free, unit.Length(blockSide))
	default:
		b.blocks()
	}
	if f.Lacks != "" {
		b.note("nothing screws the board down: %s", f.Lacks)
	}
}

// blocks are laid along the front and back walls, from corner to corner.
func (b *builder) blocks() {
	f, w := &b.list.Fixing, b.r.Walls
	f.Block = blockSide
	from, to := -w.Left+blockSide/2, w.Right-blockSide/2
	n := int(math.Ceil(float64((to-from)/blockPitch) - 1e-9))
	for _, y := range []unit.Length{-w.Front + blockSide/2, w.Back - blockSide/2} {
		for i := range n + 1 {
			f.Board = append(f.Board, Hole{from + (to-from)*unit.Length(i)/unit.Length(n), y, boardHole, "board screw"})
		}
	}
	deep := unit.Length(blockDeep)
	b.fastener(fmt.Sprintf("wooden block %.0f × %.0f × %.0f mm", f.Block.MM(), f.Block.MM(), deep.MM()), 2*(n+1),
		fmt.Sprintf("glued into the corners and along front and back wall, level with their tops, every %s at most", unit.Length(blockPitch)))
	b.fastener("countersunk wood screw 3 × 16", 2*(n+1), "board to the blocks, one each")
}

// plate is the carriage's: a passage for the magnet's cup in the middle, a screw in each corner.
func (b *builder) plate() {
	c, f := b.r.Carriage, &b.list.Fixing
	if min(c.Left+c.Right, c.Front+c.Back) <= 0 || b.r.Lift.Diameter <= 0 {
		return
	}
	f.Plate = []Hole{{0, 0, b.r.Lift.Diameter + 2*cupWall + cupPlay, "the magnet's cup"}}
	for _, x := range []unit.Length{-c.Left + plateEdge, c.Right - plateEdge} {
		for _, y := range []unit.Length{-c.Front + plateEdge, c.Back - plateEdge} {
			f.Plate = append(f.Plate, Hole{x, y, plateHole, "plate screw M3"})
		}
	}
	b.fastener("machine screw M3 × 12", len(f.Plate)-1, "carriage plate to its sliders")
}
