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

// draft is a plan being made: the steps so far and the scene after them.
type draft struct {
	p      *Planner
	pieces []plan.Piece
	at     lanes.Spot // the carriage
	steps  []plan.Step
	time   float64
	asks   int
	aside  int // step-asides
}

func (p *Planner) draft(s plan.Scene) *draft {
	return &draft{p: p, pieces: slices.Clone(s.Pieces), at: s.Carriage}
}

// fork is a copy to try something on.
func (d *draft) fork() *draft {
	c := *d
	c.pieces, c.steps = slices.Clone(d.pieces), slices.Clip(d.steps)
	return &c
}

func (d *draft) plan() plan.Plan {
	return plan.Plan{Steps: trajectory.Drive(d.steps, d.p.limits.Limits), Time: unit.Duration(d.time), Asides: d.aside}
}

func (d *draft) add(s plan.Step) {
	d.steps = append(d.steps, s)
	d.time += float64(s.Time)
}

// on is the index of the piece on a square, or −1.
func (d *draft) on(sq game.Square) int {
	return slices.IndexFunc(d.pieces, func(m plan.Piece) bool { return m.Square == sq && sq < game.NoSquare })
}

// target is where a piece is to go.
type target struct {
	at     lanes.Spot
	square game.Square
}

func (d *draft) square(sq game.Square) target { return target{d.p.Centre(sq), sq} }

// haul is a piece's way with the carriage's path that leads it there.
type haul struct {
	way      lanes.Way
	carriage []lanes.Spot
	time     float64 // of the drag, s
}

// carry emits travel, grip, carry and release for piece i along h.
func (d *draft) carry(i int, to target, h haul) bool {
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
func (d *draft) tryCarry(i int, to target) bool {
	h, ok := d.haul(i, to.at)
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
func (d *draft) travel(i int) bool {
	to, l := d.pieces[i].At, d.p.limits
	if d.at.Distance(to) < 1e-9 {
		return true
	}
	way, ok := d.p.loweredField(d.pieces, i).Best(d.at, to, lanes.Taste{})
	if !ok {
		return false
	}
	p := trajectory.Over(way.Points, l.Travel)
	d.add(plan.Step{Do: plan.Travel, Path: way.Points,
		Speed: unit.Speed(p.Speed), Accel: unit.Acceleration(p.Accel), Jerk: unit.Jerk(p.Jerk),
		Time: unit.Duration(trajectory.Time(way.Points, l.Travel))})
	d.at = to
	return true
}

// remove takes piece i out of the scene.
func (d *draft) remove(i int) { d.pieces = slices.Delete(d.pieces, i, i+1) }
