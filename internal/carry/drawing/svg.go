// SPDX-License-Identifier: Apache-2.0

// Package drawing draws a plan: a plan drawing of the board with every step,
// and the clearances between the bases along it.
package drawing

import (
	"bytes"
	"fmt"
	"html"
	"math"

	"boardhand/internal/carry/plan"
	"boardhand/internal/frame"
	"boardhand/internal/game"
	"boardhand/internal/rig"
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

// SVG draws the plan as a plan drawing at 1:1, board frame, White below:
// paper, ink, dark squares hatched, pieces as rings with the letter of the trade
// (White's open, Black's filled), the carriage a crosshair, lanes thin and
// dashed, with the clearances measured on them; warnings in one colour.
func (s Sheet) SVG() []byte {
	d := newDrawing(s)
	first := s.Scenes[0]
	d.frame(first)
	d.head()
	d.field()
	d.tray()
	d.pieces(first)
	for n := range s.Plan.Steps {
		d.step(s.Scenes[n], n)
	}
	d.crosshair(first.Carriage)
	d.dimensions()
	d.notes()
	d.buf.WriteString("</svg>\n")
	return d.buf.Bytes()
}

// drawing is the sheet being drawn; lengths in millimetres, y downwards.
type drawing struct {
	Sheet
	side       float64 // of a square, m
	buf        bytes.Buffer
	left, top  float64 // of the drawing, mm
	wide, high float64
	tight      []measure
}

func newDrawing(s Sheet) *drawing { return &drawing{Sheet: s, side: float64(s.Rig.Board.Square)} }

// centre is the centre of a square.
func (d *drawing) centre(sq game.Square) spot { return d.Rig.Board.Centre(sq.File(), sq.Rank()) }

// measure is one clearance to print.
type measure struct {
	at, piece spot    // on the way, and the piece it passes
	base      float64 // the piece's, m
	half      float64 // half the carried base, m
	gap       float64 // between the bases, m
	need      float64 // least allowed, m
}

const (
	paper, ink, soft, hair, signal = "#f5f4ec", "#14233c", "#4b5870", "#9aa3b2", "#c2300f"

	noteWidth  = 104.0 // mm beside the board for the list of steps
	noteLine   = 6.2   // mm from line to line
	noteLetter = 48    // letters a line holds
)

func (d *drawing) printf(format string, args ...any) { fmt.Fprintf(&d.buf, format, args...) }

// x and y turn a spot into millimetres on the sheet.
func x(s spot) float64 { return s.X * 1e3 }
func y(s spot) float64 { return -s.Y * 1e3 }

// frame sets the sheet's size: the board, whatever stands beside it, notes.
func (d *drawing) frame(s plan.Scene) {
	x, y := d.Rig.Board.Half()
	out := math.Max(float64(d.Rig.Board.Border), 0.3*d.side)
	corner := spot{X: float64(x) + out, Y: float64(y) + out}
	r := rect{Min: corner.Scale(-1), Max: corner}
	edge := 0.6 * d.side
	for _, m := range s.Pieces {
		r = r.With(spot{X: m.At.X - edge, Y: m.At.Y}).With(spot{X: m.At.X + edge, Y: m.At.Y})
	}
	if d.Rig.Removal.Mode == "tray" {
		for _, t := range d.Rig.Slots() {
			r = r.With(spot{X: t.X - edge, Y: t.Y}).With(spot{X: t.X + edge, Y: t.Y})
		}
	}
	d.left, d.top = r.Min.X*1e3-6, -r.Max.Y*1e3-6
	d.wide, d.high = (r.Max.X-r.Min.X)*1e3+12+noteWidth, (r.Max.Y-r.Min.Y)*1e3+12
}

func (d *drawing) head() {
	d.printf(`<svg xmlns="http://www.w3.org/2000/svg" width="%.1fmm" height="%.1fmm" viewBox="%.2f %.2f %.2f %.2f" font-family="sans-serif" fill="none" stroke="%s" stroke-width="0.35">`+"\n",
		d.wide, d.high, d.left, d.top, d.wide, d.high, ink)
	d.printf(`<defs><pattern id="dark" width="2.6" height="2.6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0V2.6" stroke="%s" stroke-width="0.25"/></pattern></defs>`+"\n", hair)
	d.printf(`<rect x="%.2f" y="%.2f" width="%.2f" height="%.2f" fill="%s" stroke="none"/>`+"\n", d.left, d.top, d.wide, d.high, paper)
}

func (d *drawing) field() {
	s, board := d.side*1e3, d.Rig.Board.Squares()
	wide, high := float64(board.Files)/2*s, float64(board.Ranks)/2*s
	for _, sq := range board.Squares() {
		if (sq.File()+sq.Rank())%2 == 0 {
			c := d.centre(sq)
			d.printf(`<rect x="%.2f" y="%.2f" width="%.2f" height="%.2f" fill="url(#dark)" stroke="none"/>`+"\n", x(c)-s/2, y(c)-s/2, s, s)
		}
	}
	d.lines(board, wide, high)
	b := float64(d.Rig.Board.Border) * 1e3
	d.printf(`<rect x="%.2f" y="%.2f" width="%.2f" height="%.2f" stroke-width="0.6"/>`+"\n", -wide-b, -high-b, 2*wide+2*b, 2*high+2*b)
	size := math.Max(2.6, math.Min(0.6*b, 5))
	b = math.Min(b, 2*size)
	for k := range max(board.Files, board.Ranks) {
		if c := d.centre(game.SquareAt(k, 0)); k < board.Files {
			d.text(x(c), high+b/2+size*0.36, size, soft, "middle", string(rune('a'+k)))
		}
		if c := d.centre(game.SquareAt(0, k)); k < board.Ranks {
			d.text(-wide-b/2, y(c)+size*0.36, size, soft, "middle", string(rune('1'+k)))
		}
	}
}

// lines draws the edges of the squares.
func (d *drawing) lines(board game.Board, wide, high float64) {
	s := d.side * 1e3
	for k := range max(board.Files, board.Ranks) + 1 {
		across, along := "", ""
		if k <= board.Ranks {
			across = fmt.Sprintf("M%.2f %.2fH%.2f", -wide, float64(k)*s-high, wide)
		}
		if k <= board.Files {
			along = fmt.Sprintf("M%.2f %.2fV%.2f", float64(k)*s-wide, -high, high)
		}
		d.printf(`<path d="%s%s" stroke-width="0.2" stroke="%s"/>`+"\n", across, along, soft)
	}
}

func (d *drawing) text(x, y, size float64, colour, anchor, words string) {
	d.printf(`<text x="%.2f" y="%.2f" font-size="%.2f" fill="%s" stroke="none" text-anchor="%s">%s</text>`+"\n", x, y, size, colour, anchor, html.EscapeString(words))
}

func (d *drawing) tray() {
	if d.Rig.Removal.Mode != "tray" {
		return
	}
	slots := d.Rig.Slots()
	for k, t := range slots {
		out := math.Copysign(float64(d.Rig.Pieces.Widest())*1e3/2+4, t.X)
		d.text(x(t)+out, y(t)+0.9, 2.4, soft, "middle", rig.SlotName(k, len(slots)))
		d.printf(`<circle cx="%.2f" cy="%.2f" r="%.2f" stroke="%s" stroke-width="0.2"/>`+"\n", x(t), y(t), float64(d.Rig.Pieces.Widest())*1e3/2+0.6, hair)
	}
}

// pieces draws the pieces as they stand before.
func (d *drawing) pieces(before plan.Scene) {
	for _, m := range before.Pieces {
		fill, letter := paper, ink
		if m.Piece.Color() == game.Black {
			fill, letter = ink, paper
		}
		r := m.Base * 500
		d.printf(`<circle cx="%.2f" cy="%.2f" r="%.2f" fill="%s" stroke-width="0.5"/>`+"\n", x(m.At), y(m.At), r, fill)
		d.text(x(m.At), y(m.At)+r*0.42, r*1.2, letter, "middle", string(d.Rig.Pieces.Kinds().Letter(m.Piece.Kind())))
	}
}

func (d *drawing) crosshair(s spot) {
	d.printf(`<g stroke-width="0.4"><circle cx="%[1]f" cy="%[2]f" r="3"/><path d="M%.2f %[2]fh9M%[1]f %[4]fv9"/></g>`+"\n", x(s), y(s), x(s)-4.5, y(s)-4.5)
}
