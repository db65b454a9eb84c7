// SPDX-License-Identifier: Apache-2.0

package physics

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/twin/mechanics"
)

const gravity = 9.80665 // m/s², standard gravity, CGPM 1901

// Place says where a piece is.
type Place uint8

const (
	OnBoard Place = iota // stands (or lies) on the board, free to slide
	InHand               // held by a person
	Beside               // stands on the table beside the machine
	Gone                 // fell through the trapdoor into the drawer
)

// Piece is one piece as the world has it. Board frame, SI units.
type Piece struct {
	ID       int
	Piece    chess.Piece
	At, vel  frame.Spot[frame.Board] // centre of the base, m; its speed, m/s
	Z        float64                 // of the base over the playing surface, m
	Place    Place
	Mass     float64 // kg
	Base     float64 // radius, m
	Height   float64 // m
	balance  float64 // height of the centre of mass
	Static   float64 // friction coefficients
	Kinetic  float64
	Magnet   bool         // its base holds one
	Strength float64      // its magnet over the nominal base magnet; below zero: upside down
	Astray   float64      // how far the magnet sits off the axis, towards where the piece looks, m
	Origin   chess.Square // where the piece was set up; NoSquare: beside the board

	Rock, rockRate float64                 // angle tipped and its rate, rad
	Heading        frame.Spot[frame.Board] // direction in which it was last pushed, or lies
	Fallen         bool
	pushed         bool // was pushed by another piece during this stroke

	Yaw   float64                 // which way a knight looks, rad
	Shade float64                 // its own colour over the set's
	Lean  frame.Spot[frame.Board] // of a piece not quite upright, rad
	since frame.Spot[frame.Board] // where it was when the stroke began
}

// Pole is where the axis of the piece's magnet is.
func (b *Piece) Pole() frame.Spot[frame.Board] {
	if b.Astray == 0 {
		return b.At
	}
	sin, cos := math.Sincos(b.Yaw)
	return b.At.Add(frame.Spot[frame.Board]{X: b.Astray * cos, Y: b.Astray * sin})
}

// swivel turns a sliding piece whose magnet sits off its axis: the pull has a
// lever there, and the piece turns until its magnet leads.
//
// For a base of radius R pressed evenly, sliding at v and turning at ω ≪ v/R, the
// friction F has the moment F R² ω/(4 v) against the turn, first order in ωR/v.
// A pull with the moment M so turns it at ω = 4 v M/(F R²), here v/R at most.
// Source: Coulomb friction integrated over a disc, textbook.
func (b *Piece) swivel(pull frame.Spot[frame.Board], friction float64) {
	v := b.vel.Norm()
	if b.Astray == 0 || v == 0 || friction <= 0 {
		return
	}
	arm := b.Pole().Sub(b.At)
	moment := arm.X*pull.Y - arm.Y*pull.X
	most := v / b.Base
	b.Yaw += mechanics.Step * math.Max(-most, math.Min(most, 4*v*moment/(friction*b.Base*b.Base)))
}
