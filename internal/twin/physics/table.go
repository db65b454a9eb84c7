// SPDX-License-Identifier: Apache-2.0

package physics

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/magnet"
	"boardhand/internal/rig"
)

// Table is the pieces of one game with the board that they stand on and the
// magnets that pull them.
type Table struct {
	Pieces []*Piece

	rig     *rig.Rig
	set     Setting
	pull    *pulls
	warp    warp
	slots   []frame.Spot[frame.Board] // of the tray
	grip    *Piece                    // the piece the magnet holds
	held    *Piece                    // the piece it held when the stroke began
	touches map[[2]int]bool
	patch   stickyPatch
}

// New makes an empty table. An error says which magnet makes no sense.
func New(r *rig.Rig, s Setting) (*Table, error) {
	t := &Table{rig: r, set: s, slots: r.Slots(), warp: newWarp(r, s.Bow), touches: map[[2]int]bool{}}
	var err error
	t.pull, err = newPulls(r, s.DriveBr, s.BaseBr)
	return t, err
}

// Clear takes all pieces away.
func (t *Table) Clear() {
	t.Pieces, t.grip, t.held, t.touches = nil, nil, nil, map[[2]int]bool{}
}

// Gripped is the piece that the magnet holds; nil: none.
func (t *Table) Gripped() *Piece { return t.grip }

// Slots are the middles of the tray's slots.
func (t *Table) Slots() []frame.Spot[frame.Board] { return t.slots }

// Slopes are those of the plane that fits the warped field best, along x and y, over the plane z = 0.
func (t *Table) Slopes() [2]float64 { return t.warp.slopes() }

// Height is the height of the warped board's surface over its mean plane, m.
func (t *Table) Height(at frame.Spot[frame.Board]) float64 { return t.warp.at(at) }

// Pull is the drive magnet's pull on a base of mean strength.
func (t *Table) Pull() *magnet.Map { return t.pull.table }

// Turn makes a piece as the workshop delivers it, with its own friction, magnet
// and looks, and puts it at the end of Pieces, at the field's centre.
func (t *Table) Turn(p chess.Piece) *Piece {
	m := t.rig.Pieces.Of(p.Kind())
	spread := math.Max(leastFriction, 1+t.set.FrictionScatter*t.set.Chance.NormFloat64())
	b := &Piece{
		ID: len(t.Pieces), Piece: p, Origin: chess.NoSquare,
		Mass: float64(m.Mass), Base: float64(m.Base) / 2, Height: float64(m.Height), balance: m.Balance * float64(m.Height),
		Static: t.rig.Board.Friction * spread, Kinetic: t.rig.Board.Kinetic * spread,
		Magnet:   t.rig.Pieces.Carries(p.Color().String()),
		Strength: 1 + t.set.BaseScatter*t.set.Chance.NormFloat64(),
		Yaw:      2 * math.Pi * t.set.Chance.Float64(), Shade: 1 + shadeSpread*t.set.Chance.NormFloat64(),
	}
	if t.set.HasWideBases {
		b.Base = math.Min(b.Base*wideShare, widestBase*float64(t.rig.Board.Square)/2)
	}
	b.Lean = frame.Spot[frame.Board]{X: slant * t.set.Chance.NormFloat64(), Y: slant * t.set.Chance.NormFloat64()}
	t.Pieces = append(t.Pieces, b)
	return b
}

// IsTrayed says whether a piece stands in a tray slot.
func (t *Table) IsTrayed(b *Piece) bool {
	if b.Place != OnBoard {
		return false
	}
	for _, s := range t.slots {
		if b.At.Distance(s) < SlotReach*float64(t.rig.Board.Square) {
			return true
		}
	}
	return false
}

// Centre is the middle of a square on the board.
func (t *Table) Centre(s chess.Square) frame.Spot[frame.Board] {
	return t.rig.Board.Centre(s.File(), s.Rank())
}

// Around scatters a place by a standard deviation, a share of a square, and never
// by more than three of them.
func (t *Table) Around(p frame.Spot[frame.Board], sigma float64) frame.Spot[frame.Board] {
	clip := func(v float64) float64 { return math.Max(-3, math.Min(3, v)) }
	k := sigma * float64(t.rig.Board.Square)
	return p.Add(frame.Spot[frame.Board]{X: k * clip(t.set.Chance.NormFloat64()), Y: k * clip(t.set.Chance.NormFloat64())})
}

// Square is where the piece counts as standing; NoSquare off the field.
func (t *Table) Square(b *Piece) chess.Square {
	if b.Place != OnBoard {
		return chess.NoSquare
	}
	return t.SquareAt(b.At)
}

// SquareAt is the square that a place is on; NoSquare off the field.
func (t *Table) SquareAt(p frame.Spot[frame.Board]) chess.Square {
	b, s := t.rig.Board, float64(t.rig.Board.Square)
	f, r := math.Floor(p.X/s+float64(b.Files)/2), math.Floor(p.Y/s+float64(b.Ranks)/2)
	if f < 0 || r < 0 || f >= float64(b.Files) || r >= float64(b.Ranks) {
		return chess.NoSquare
	}
	return chess.SquareAt(int(f), int(r))
}

// Stand puts a piece down on the board by hand. A stroke under way did not drag
// it there: from now on it counts as having stood here.
func (t *Table) Stand(b *Piece) {
	b.Place, b.Z = OnBoard, 0
	t.MakeRoom(b)
	b.since = b.At
}

// Take takes a piece into a hand.
func (b *Piece) Take() {
	b.Place, b.Fallen, b.vel = InHand, false, frame.Spot[frame.Board]{}
}

// MakeRoom shifts a piece just put down until it touches nobody: fingers feel a
// neighbour and give way.
func (t *Table) MakeRoom(b *Piece) {
	for range mostShifts {
		clear := true
		for _, o := range t.Pieces {
			if o == b || o.Place != OnBoard || b.Place != OnBoard {
				continue
			}
			d := b.At.Sub(o.At)
			need := b.Base + o.Base + fingerRoom
			if dist := d.Norm(); dist < need {
				clear = false
				b.At = b.At.Add(d.Unit().Scale(need - dist))
			}
		}
		if clear {
			return
		}
	}
}
