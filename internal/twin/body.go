package twin

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
)

const gravity = 9.80665 // m/s², standard gravity, CGPM 1901

// place says where a man is.
type place uint8

const (
	onBoard place = iota // stands (or lies) on the board, free to slide
	inHand               // held by a person
	beside               // stands on the table beside the machine
	gone                 // fell through the trapdoor into the drawer
)

// body is one man as the world has him. Board frame, SI units.
type body struct {
	id       int
	piece    chess.Piece
	at, vel  frame.Spot[frame.Board]
	z        float64 // of the foot over the playing surface
	place    place
	mass     float64
	foot     float64 // radius
	height   float64
	balance  float64 // height of the centre of mass
	static   float64 // friction coefficients
	kinetic  float64
	magnet   bool
	strength float64      // his magnet over the nominal foot magnet; below zero: upside down
	astray   float64      // how far the magnet sits off the axis, towards where the piece looks, m
	ill      Fault        // what is wrong with the magnet; "": nothing
	origin   chess.Square // where the piece was set up; NoSquare: beside the board

	rock, rockRate float64 // angle tipped and its rate, rad
	heading        frame.Spot[frame.Board]
	fallen         bool
	pushed         bool // was pushed by another man during this stroke

	yaw   float64                 // which way a knight looks
	shade float64                 // his own colour over the set's
	lean  frame.Spot[frame.Board] // of a man not quite upright, rad
	since frame.Spot[frame.Board] // where he was when the stroke began
}

// spec is the rig's shape for a kind.
func spec(r *rig.Rig, k chess.Kind) rig.Man {
	switch k {
	case chess.King:
		return r.Pieces.King
	case chess.Queen:
		return r.Pieces.Queen
	case chess.Bishop:
		return r.Pieces.Bishop
	case chess.Knight:
		return r.Pieces.Knight
	case chess.Rook:
		return r.Pieces.Rook
	}
	return r.Pieces.Pawn
}

// turned makes a man as the workshop delivers him.
func (w *World) turned(p chess.Piece) *body {
	m := spec(w.rig, p.Kind())
	spread := math.Max(0.5, 1+w.quirks.FrictionScale*w.chance.NormFloat64())
	b := &body{
		id: len(w.men), piece: p, origin: chess.NoSquare,
		mass: float64(m.Mass), foot: float64(m.Base) / 2, height: float64(m.Height), balance: m.Balance * float64(m.Height),
		static: w.rig.Board.Friction * spread, kinetic: w.rig.Board.Kinetic * spread,
		magnet:   w.rig.Pieces.Carries(p.Color().String()),
		strength: 1 + w.quirks.FootScatter*w.chance.NormFloat64(),
		yaw:      2 * math.Pi * w.chance.Float64(), shade: 1 + 0.06*w.chance.NormFloat64(),
	}
	if w.faults[WideFoot] {
		b.foot = math.Min(b.foot*wideShare, widestFoot*float64(w.rig.Board.Square)/2)
	}
	const slant = 0.006 // rad: a foot not turned quite square, common practice
	b.lean = frame.Spot[frame.Board]{X: slant * w.chance.NormFloat64(), Y: slant * w.chance.NormFloat64()}
	w.men = append(w.men, b)
	return b
}

// setMen puts the men of a position on their squares, as a person would.
func (w *World) setMen(pos chess.Position, o Options) {
	for s := chess.Square(0); s < chess.NoSquare; s++ {
		p := pos.At(s)
		if int(s) < len(o.Men) {
			p = o.Men[s]
		}
		if p != chess.NoPiece {
			b := w.turned(p)
			b.at, b.origin = w.around(w.centre(s), w.quirks.Placement), s
		}
	}
	for _, b := range w.men {
		w.makeRoom(b)
	}
}

// setAside puts men in the tray, and others into the guest's keeping.
func (w *World) setAside(men []Aside) {
	for _, m := range men {
		b := w.turned(m.Piece)
		if m.At != nil {
			b.at = *m.At
			continue
		}
		b.place = beside
		b.at, b.z = w.person.shelf(b)
	}
}

// slotReach is how far from a slot's middle, as a share of a board's square, a
// piece still counts as standing in it.
const slotReach = 0.3

// trayed says whether a man stands in a tray slot.
func (w *World) trayed(b *body) bool {
	if b.place != onBoard {
		return false
	}
	for _, s := range w.slots {
		if b.at.Distance(s) < slotReach*float64(w.rig.Board.Square) {
			return true
		}
	}
	return false
}

// centre is the middle of a square on the board.
func (w *World) centre(s chess.Square) frame.Spot[frame.Board] {
	return w.rig.Board.Centre(s.File(), s.Rank())
}

// around scatters a place by sigma of a square, never more than three sigma.
func (w *World) around(p frame.Spot[frame.Board], sigma float64) frame.Spot[frame.Board] {
	clip := func(v float64) float64 { return math.Max(-3, math.Min(3, v)) }
	k := sigma * float64(w.rig.Board.Square)
	return p.Add(frame.Spot[frame.Board]{X: k * clip(w.chance.NormFloat64()), Y: k * clip(w.chance.NormFloat64())})
}

// square is where the man counts as standing; NoSquare off the field.
func (w *World) square(b *body) chess.Square {
	if b.place != onBoard {
		return chess.NoSquare
	}
	return w.squareOf(b.at)
}

func (w *World) squareOf(p frame.Spot[frame.Board]) chess.Square {
	s := float64(w.rig.Board.Square)
	f, r := math.Floor(p.X/s+rig.Files/2), math.Floor(p.Y/s+rig.Files/2)
	if f < 0 || r < 0 || f >= rig.Files || r >= rig.Files {
		return chess.NoSquare
	}
	return chess.SquareAt(int(f), int(r))
}

// stand puts a man down on the board by hand. A stroke under way did not drag
// him there: from now on he counts as having stood here.
func (w *World) stand(b *body) {
	b.place, b.z = onBoard, 0
	w.makeRoom(b)
	b.since = b.at
}

// makeRoom shifts a man just put down until he touches nobody: fingers feel a
// neighbour and give way.
func (w *World) makeRoom(b *body) {
	for range 20 {
		clear := true
		for _, o := range w.men {
			if o == b || o.place != onBoard || b.place != onBoard {
				continue
			}
			d := b.at.Sub(o.at)
			need := b.foot + o.foot + fingerRoom
			if dist := d.Norm(); dist < need {
				clear = false
				b.at = b.at.Add(d.Unit().Scale(need - dist))
			}
		}
		if clear {
			return
		}
	}
}

// fingerRoom is what a person leaves between two feet: 0.3 mm, common practice.
const fingerRoom = 0.0003
