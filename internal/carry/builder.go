// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"slices"

	"boardhand/internal/carry/plan"
	"boardhand/internal/carry/trajectory"
	"boardhand/internal/game"
	"boardhand/internal/lanes"
	"boardhand/internal/unit"
)

// builder is a plan being made: the steps so far and the scene after them.
type builder struct {
	p      *Planner
	pieces []plan.Piece
	closed []lanes.Spot // slots that are not to be used
	at     lanes.Spot   // the carriage
	steps  []plan.Step
	time   float64
	asks   int
	aside  int // step-asides
}

func (p *Planner) builder(s plan.Scene) *builder {
	return &builder{p: p, pieces: slices.Clone(s.Pieces), closed: s.Closed, at: s.Carriage}
}

// fork is a copy to try something on.
func (d *builder) fork() *builder {
	c := *d
	c.pieces, c.steps = slices.Clone(d.pieces), slices.Clip(d.steps)
	return &c
}

func (d *builder) plan() plan.Plan {
	return plan.Plan{Steps: trajectory.Drive(d.steps, d.p.limits.Limits), Time: unit.Duration(d.time), Asides: d.aside}
}

func (d *builder) add(s plan.Step) {
	d.steps = append(d.steps, s)
	d.time += float64(s.Time)
}

// on is the index of the piece on a square, or −1.
func (d *builder) on(sq game.Square) int {
	return slices.IndexFunc(d.pieces, func(m plan.Piece) bool { return m.Square == sq && sq < game.NoSquare })
}

// target is where a piece is to go.
type target struct {
	at     lanes.Spot
	square game.Square
}

func (d *builder) square(sq game.Square) target { return target{d.p.Centre(sq), sq} }

// transport is a piece's way with the carriage's path that leads it there.
type transport struct {
	path     lanes.Path
	carriage []lanes.Spot
	time     float64 // of the drag, s
}

// carry emits travel, grip, carry and release for piece i along h.
func (d *builder) carry(i int, to target, h transport) bool {
	if !d.travel(i) {
		return false
	}
	m, l := d.pieces[i], d.p.limits
	lift := unit.Duration(l.LiftTime)
	d.add(plan.Step{Do: plan.Grip, Piece: m.Piece, From: m.Square, To: m.Square, Time: lift})
	p := trajectory.Over(h.carriage, l.Carry)
	d.add(plan.Step{Do: plan.Carry, Piece: m.Piece, From: m.Square, To: to.square,
		Path:  h.carriage,
		Speed: unit.Speed(p.Speed), Accel: unit.Acceleration(p.Accel), Jerk: unit.Jerk(p.Jerk),
		Time: unit.Duration(h.time)})
	d.add(plan.Step{Do: plan.Release, Piece: m.Piece, From: to.square, To: to.square, Time: lift})
	d.at = h.carriage[len(h.carriage)-1]
	d.pieces[i].At, d.pieces[i].Square, d.pieces[i].Sigma = to.at, to.square, l.arrival()
	return true
}

// tryCarry carries piece i to a target where a way is free; else it changes nothing.
func (d *builder) tryCarry(i int, to target) bool {
	h, ok := d.transport(i, to.at)
	if !ok {
		return false
	}
	try := d.fork()
	if !try.carry(i, to, h) {
		return false
	}
	*d = *try
	return true
}

// travel takes the lowered magnet under piece i; false when no way keeps the
// others where they are.
func (d *builder) travel(i int) bool {
	to, l := d.pieces[i].At, d.p.limits
	if d.at.Distance(to) < 1e-9 {
		return true
	}
	path, ok := d.p.loweredField(d.pieces, i).Best(d.at, to, lanes.Taste{})
	if !ok {
		return false
	}
	p := trajectory.Over(path.Points, l.Travel)
	d.add(plan.Step{Do: plan.Travel, Path: path.Points,
		Speed: unit.Speed(p.Speed), Accel: unit.Acceleration(p.Accel), Jerk: unit.Jerk(p.Jerk),
		Time: unit.Duration(trajectory.Time(path.Points, l.Travel))})
	d.at = to
	return true
}

// remove takes piece i out of the scene.
func (d *builder) remove(i int) { d.pieces = slices.Delete(d.pieces, i, i+1) }
