// SPDX-License-Identifier: Apache-2.0

// Package drawing draws a plan: a plan drawing of the board with every step,
// and the clearances between the bases along it.
package drawing

import (
	"math"

	"boardhand/internal/carry/plan"
	"boardhand/internal/draw"
	"boardhand/internal/frame"
	"boardhand/internal/game"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// A place and an upright rectangle on the board plane, metres.
type (
	spot = frame.Spot[frame.Board]
	rect = frame.Rect[frame.Board]
)

// Sheet is a plan with all that is drawn around it.
type Sheet struct {
	Rig    *rig.Rig
	Plan   plan.Plan
	Scenes []plan.Scene                            // before each step; at least one
	Keep   func(carried, other plan.Piece) float64 // least distance of the centres, metres
}

// SVG is the drawing as a picture for browsers.
func (s Sheet) SVG() []byte {
	d := s.Drawing()
	p := draw.NewSVG(d.W, d.H)
	p.Name("Plan of " + unit.Count(len(s.Plan.Steps), "step") + " of the carriage")
	d.Play(p)
	return []byte(p.Close())
}

// Drawing draws the plan as a plan drawing at 1:1, White below:
// paper, ink, dark squares hatched, pieces as rings with the letter of the trade
// (White's open, Black's filled), the carriage a crosshair, lanes thin and
// dashed, with the clearances measured on them; warnings in one colour.
func (s Sheet) Drawing() *draw.Drawing {
	first := s.Scenes[0]
	d := newDrawing(s)
	d.frame(first)
	d.field()
	d.tray()
	d.pieces(first)
	for n := range s.Plan.Steps {
		d.step(s.Scenes[n], n)
	}
	d.crosshair(first.Carriage)
	d.dimensions()
	d.notes()
	return d.Drawing
}

// drawing is the sheet being drawn, in millimetres of paper.
type drawing struct {
	Sheet
	*draw.Drawing
	side      float64 // of a square, mm
	left, top float64 // of the paper on the board plane, mm
	tight     []measure
}

func newDrawing(s Sheet) *drawing {
	return &drawing{Sheet: s, Drawing: &draw.Drawing{}, side: float64(s.Rig.Board.Square) * 1e3}
}

// centre is the centre of a square.
func (d *drawing) centre(sq game.Square) spot { return d.Rig.Board.Centre(sq.File(), sq.Rank()) }

// measure is one clearance to print.
type measure struct {
	at, piece spot    // on the way, and the piece it passes
	half      float64 // half the carried base, m
	gap       float64 // between the bases, m
	need      float64 // least allowed, m
}

// on is where a spot lies on the paper.
func (d *drawing) on(s spot) (x, y float64) { return s.X*1e3 - d.left, -s.Y*1e3 - d.top }

// stretch draws a straight line between two spots.
func (d *drawing) stretch(a, b spot, i draw.Ink) { d.line([]spot{a, b}, i) }

// write writes a word with its anchor at a spot, moved by millimetres of paper.
func (d *drawing) write(s spot, dx, dy float64, w draw.Word) {
	w.X, w.Y = d.on(s)
	w.X, w.Y = w.X+dx, w.Y+dy
	d.Write(w)
}

// circle draws a circle round a spot, its radius in millimetres.
func (d *drawing) circle(s spot, radius float64, i draw.Ink) {
	x, y := d.on(s)
	d.Circle(x, y, radius, i)
}

// frame sets the paper's size: the board, whatever stands beside it, notes.
func (d *drawing) frame(s plan.Scene) {
	x, y := d.Rig.Board.Half()
	out := math.Max(float64(d.Rig.Board.Border), 0.3e-3*d.side)
	corner := spot{X: float64(x) + out, Y: float64(y) + out}
	r := rect{Min: corner.Scale(-1), Max: corner}
	edge := 0.6e-3 * d.side
	for _, m := range s.Pieces {
		r = r.With(spot{X: m.At.X - edge, Y: m.At.Y}).With(spot{X: m.At.X + edge, Y: m.At.Y})
	}
	if d.Rig.Removal.Mode == "tray" {
		for _, t := range d.Rig.Slots() {
			r = r.With(spot{X: t.X - edge, Y: t.Y}).With(spot{X: t.X + edge, Y: t.Y})
		}
	}
	d.left, d.top = r.Min.X*1e3-margin, -r.Max.Y*1e3-margin
	d.W, d.H = (r.Max.X-r.Min.X)*1e3+2*margin+noteWidth, (r.Max.Y-r.Min.Y)*1e3+2*margin
	draw.Fill(d, draw.Rect{X1: d.W, Y1: d.H}, draw.Ground)
}

// field draws the squares, the edge of the sheet and the names of files and ranks.
func (d *drawing) field() {
	board, s := d.Rig.Board.Squares(), d.side/1e3
	wide, high := float64(board.Files)/2*s, float64(board.Ranks)/2*s
	for _, sq := range board.Squares() {
		if (sq.File()+sq.Rank())%2 == 0 {
			x, y := d.on(d.centre(sq))
			draw.Hatch(d, x-d.side/2, y-d.side/2, d.side)
		}
	}
	for k := range board.Ranks + 1 {
		y := float64(k)*s - high
		d.stretch(spot{X: -wide, Y: y}, spot{X: wide, Y: y}, draw.Fine)
	}
	for k := range board.Files + 1 {
		x := float64(k)*s - wide
		d.stretch(spot{X: x, Y: -high}, spot{X: x, Y: high}, draw.Fine)
	}
	b := float64(d.Rig.Board.Border)
	x, y := wide+b, high+b
	d.line([]spot{{X: -x, Y: -y}, {X: x, Y: -y}, {X: x, Y: y}, {X: -x, Y: y}, {X: -x, Y: -y}}, draw.Outline)
	size := math.Max(2.6, math.Min(0.6e3*b, 5))
	in := math.Min(b*1e3, 2*size) / 2
	for k := range max(board.Files, board.Ranks) {
		w := draw.Word{Size: size, At: draw.Middle}
		if w.Text = string(rune('a' + k)); k < board.Files {
			d.write(spot{X: d.centre(game.SquareAt(k, 0)).X, Y: -high}, 0, in+size*middling, w)
		}
		if w.Text = string(rune('1' + k)); k < board.Ranks {
			d.write(spot{X: -wide, Y: d.centre(game.SquareAt(0, k)).Y}, -in, size*middling, w)
		}
	}
}

// middling is how far below the middle of its capitals a word's baseline lies, as a share of its
// size: half the height of capitals.
const middling = 0.36

// tray draws the slots with their names.
func (d *drawing) tray() {
	if d.Rig.Removal.Mode != "tray" {
		return
	}
	slots, half := d.Rig.Slots(), float64(d.Rig.Pieces.Widest())*1e3/2
	for k, t := range slots {
		d.write(t, math.Copysign(half+4, t.X), 2.4*middling, draw.Word{Text: rig.SlotName(k, len(slots)), Size: 2.4, At: draw.Middle})
		d.circle(t, half+0.6, slotLine)
	}
}

// pieces draws the pieces as they stand before.
func (d *drawing) pieces(before plan.Scene) {
	for _, m := range before.Pieces {
		r, isFull := m.Base*500, m.Piece.Color() == game.Black
		x, y := d.on(m.At)
		ground := draw.Ground
		if isFull {
			ground = draw.Solid
		}
		draw.Disc(d, x, y, r, ground)
		d.Circle(x, y, r, draw.Outline)
		d.Circle(x, y, turned*r, draw.Ink{Width: 0.18, Paper: isFull})
		d.write(m.At, 0, 1.2*r*middling, draw.Word{Text: string(d.Rig.Pieces.Kinds().Letter(m.Piece.Kind())), Size: 1.2 * r, At: draw.Middle, Bold: true, Paper: isFull})
	}
}

// crosshair draws where the carriage is.
func (d *drawing) crosshair(s spot) {
	const arm = 4.5e-3
	d.circle(s, 3, carriageLine)
	d.stretch(spot{X: s.X - arm, Y: s.Y}, spot{X: s.X + arm, Y: s.Y}, carriageLine)
	d.stretch(spot{X: s.X, Y: s.Y - arm}, spot{X: s.X, Y: s.Y + arm}, carriageLine)
}
