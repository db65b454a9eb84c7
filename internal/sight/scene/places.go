// SPDX-License-Identifier: Apache-2.0

package scene

import (
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/game"
)

// Centre is the middle of a square, board frame.
func (s Setup) Centre(q chess.Square) frame.Spot[frame.Board] {
	return game.Board{Files: 8, Ranks: 8, Square: s.Square}.Centre(q)
}

// Aside is how far from the middle of a square a place lies along the sides,
// as a share of the square: 0.5 on its line.
func (s Setup) Aside(q chess.Square, at frame.Spot[frame.Board]) float64 {
	d := at.Sub(s.Centre(q))
	return math.Max(math.Abs(d.X), math.Abs(d.Y)) / s.Square
}

// HalfField is half the side of the playing field.
func (s Setup) HalfField() float64 { return 4 * s.Square }

// IsBeside says whether what stands or lies at a place is clear of the playing field.
func (s Setup) IsBeside(at frame.Spot[frame.Board]) bool {
	return math.Max(math.Abs(at.X), math.Abs(at.Y)) > s.HalfField()+s.Square/2
}

// SquareAt is the square that a place lies in, or the nearest.
func (s Setup) SquareAt(at frame.Spot[frame.Board]) chess.Square {
	index := func(v float64) int { return max(0, min(7, int(math.Floor((v+s.HalfField())/s.Square)))) }
	return chess.SquareAt(index(at.X), index(at.Y))
}

// Besides lists the squares over whose lines a piece of a square reaches.
func (s Setup) Besides(q chess.Square, at frame.Spot[frame.Board]) []chess.Square {
	var out []chess.Square
	d := at.Sub(s.Centre(q)).Scale(1 / s.Square)
	for _, step := range [2]frame.Spot[frame.Board]{{X: d.X}, {Y: d.Y}} {
		if math.Abs(step.X)+math.Abs(step.Y) > OnLine {
			next := s.SquareAt(s.Centre(q).Add(step.Scale(s.Square / (math.Abs(step.X) + math.Abs(step.Y)))))
			if next != q {
				out = append(out, next)
			}
		}
	}
	return out
}

// LeastBase is the area of the smallest base, m².
func (s Setup) LeastBase() float64 {
	d := math.Inf(1)
	for _, k := range s.kinds() {
		d = math.Min(d, s.Pieces[k].Base)
	}
	return math.Pi / 4 * d * d
}

// Extremes are the kinds whose outlines are tried where a piece of unknown kind may
// stand: the lowest and a tall one.
var Extremes = [...]chess.Kind{chess.Pawn, chess.Queen}

// HalfHeight is half the height of a middling piece, metres.
func (s Setup) HalfHeight() float64 { return s.Pieces[chess.Knight].Height / 2 }

// ReachAt is how far from a place a piece may stand and still count as standing
// there, metres: slots may be nearer to each other than squares.
func (s Setup) ReachAt(at frame.Spot[frame.Board]) float64 {
	pitch, isSlot := s.Square, false
	for _, p := range s.Slots {
		switch d := p.Distance(at); {
		case d < SamePlace:
			isSlot = true
		default:
			pitch = min(pitch, d)
		}
	}
	if !isSlot {
		pitch = s.Square
	}
	return InPlace * pitch
}

// Strip is where strangers are looked for: the sheet and around the slots.
func (s Setup) Strip() (Region, float64) {
	sheet, reach := s.OnSheet(s.Border), s.HalfField()+s.Border
	for _, p := range s.Slots {
		reach = max(reach, math.Max(math.Abs(p.X), math.Abs(p.Y))+InPlace*s.Square)
	}
	return func(at frame.Spot[frame.Board]) bool {
		return sheet(at) || slices.ContainsFunc(s.Slots, func(p frame.Spot[frame.Board]) bool {
			return p.Distance(at) < 0.7*s.Square
		})
	}, reach
}

// Region says whether a place is to be scanned.
type Region func(at frame.Spot[frame.Board]) bool

// OnSheet is the field with some of its margin, metres.
func (s Setup) OnSheet(margin float64) Region {
	reach := s.HalfField() + margin
	return func(at frame.Spot[frame.Board]) bool {
		return math.Max(math.Abs(at.X), math.Abs(at.Y)) <= reach
	}
}
