// SPDX-License-Identifier: Apache-2.0

package physics

import (
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/twin/mechanics"
)

// Field is the drive magnet as the pieces feel it.
type Field struct {
	At  frame.Spot[frame.Board]
	Gap float64 // between the facing magnet faces there, m
}

// Magnet is where the drive magnet truly is.
type Magnet struct {
	At   frame.Spot[frame.Board] // its axis, m
	Lift float64                 // 0 lowered … 1 raised
}

// FieldOf is the drive magnet as the pieces feel it.
func (t *Table) FieldOf(m Magnet) Field { return Field{At: m.At, Gap: t.gapAt(m)} }

// gapAt is the distance between the facing magnet faces at a spot: sheet, air
// and recess, the drop as far as the lift is down, and what the spring leaves
// open over the warp.
func (t *Table) gapAt(m Magnet) float64 {
	return float64(t.rig.Gap()) + t.openAt(m.At) + (1-m.Lift)*float64(t.rig.Lift.Drop)
}

// openAt is how far the raised magnet stays from where its spring would press
// it: nothing while the spring has force left. Without a spring the magnet
// keeps its height and the board's warp opens or closes the gap.
func (t *Table) openAt(at frame.Spot[frame.Board]) float64 {
	z := t.warp.at(at)
	l := t.rig.Lift
	if l.Spring <= 0 {
		return math.Max(z, -float64(l.Air))
	}
	return math.Max(0, z-float64(l.Preload)/float64(l.Spring))
}

// Contact is the force between the raised magnet's cap and the underside:
// spring (or, without one, the bent board) plus the pull of the pieces, newtons.
func (t *Table) Contact(m Magnet, pull float64) float64 {
	if m.Lift < 1 {
		return 0
	}
	l, z := t.rig.Lift, t.warp.at(m.At)
	press := float64(l.Preload) - float64(l.Spring)*z
	if l.Spring <= 0 {
		press = boardStiffness * math.Max(0, -z-float64(l.Air))
	}
	return math.Max(0, press+math.Max(0, pull))
}

// Advance moves the pieces by one step and returns the force they put on the
// drive magnet, newtons: the reaction of every pull.
func (t *Table) Advance(f Field) (load frame.Spot[frame.Board], axial float64) {
	moved := false
	for _, b := range t.Pieces {
		still := b.vel == frame.Spot[frame.Board]{} && b.Rock == 0
		if b.Place != OnBoard || (still && !b.Magnet) {
			continue
		}
		force, down := t.magnetic(b, f)
		if still && down == 0 && force == (frame.Spot[frame.Board]{}) {
			continue
		}
		load = load.Sub(force)
		axial += down
		force = force.Add(t.repulsion(b))
		if t.slide(b, force, down) {
			moved = true
		}
	}
	if moved {
		t.collide()
	}
	return load, axial
}

// magnetic is the drive magnet's pull on a piece: lateral, and down.
func (t *Table) magnetic(b *Piece, f Field) (frame.Spot[frame.Board], float64) {
	if !b.Magnet || b.Fallen {
		return frame.Spot[frame.Board]{}, 0
	}
	d := f.At.Sub(b.Pole())
	if math.Abs(d.X) > t.pull.reach || math.Abs(d.Y) > t.pull.reach {
		return frame.Spot[frame.Board]{}, 0
	}
	dist := d.Norm()
	axial, lateral := t.pull.at(f.Gap, dist)
	if dist == 0 {
		return frame.Spot[frame.Board]{}, b.Strength * axial
	}
	return d.Scale(b.Strength * lateral / dist), b.Strength * axial
}

// repulsion is the push of the other bases's magnets on a piece.
func (t *Table) repulsion(b *Piece) (force frame.Spot[frame.Board]) {
	if !b.Magnet {
		return force
	}
	for _, o := range t.Pieces {
		if o == b || !o.Magnet || o.Place != OnBoard {
			continue
		}
		d := b.Pole().Sub(o.Pole())
		if math.Abs(d.X) > t.pull.spread || math.Abs(d.Y) > t.pull.spread {
			continue
		}
		push := b.Strength * o.Strength * t.pull.apart(d.Norm())
		force = force.Add(d.Unit().Scale(push))
	}
	return force
}

// slide applies a lateral force and the friction of the board for one step.
// The normal force is weight plus the magnet's pull down, never below zero:
// near the rim of the field the magnet carries part of the weight.
func (t *Table) slide(b *Piece, force frame.Spot[frame.Board], down float64) bool {
	normal := math.Max(0, b.Mass*gravity+down)
	glue := t.patch.holds(b)
	if b.vel.Norm() < stillSpeed && force.Norm() <= b.Static*normal+glue {
		b.vel = frame.Spot[frame.Board]{}
		t.rocking(b, 0, normal)
		return false
	}
	before := b.vel
	v := b.vel.Add(force.Scale(mechanics.Step / b.Mass))
	brake := (b.Kinetic*normal + glue) * mechanics.Step / b.Mass
	if speed := v.Norm(); speed <= brake {
		v = frame.Spot[frame.Board]{}
	} else {
		v = v.Scale(1 - brake/speed)
	}
	b.vel = v
	b.At = b.At.Add(v.Scale(mechanics.Step))
	b.swivel(force, b.Kinetic*normal+glue)
	gain := v.Sub(before)
	if n := gain.Norm(); n > 0 {
		b.Heading = gain.Scale(1 / n)
	}
	t.rocking(b, gain.Norm()/mechanics.Step, normal)
	t.unsupported(b)
	return true
}

// rocking tips a piece about the rim of its base: the inertia of its centre of
// mass against weight and pull. A piece tipped beyond its balance falls.
//
// I θ̈ = m a h − N (r − h θ) with N = m g + pull, I = 4/3 m (h² + r²): a turned
// piece as a rod on its end. Small angles, until it falls.
// Source: rigid body on a rim, textbook mechanics; the inertia from memory.
func (t *Table) rocking(b *Piece, accel, normal float64) {
	upset := b.Mass*accel*b.balance - normal*(b.Base-b.balance*b.Rock)
	if b.Rock <= 0 && upset <= 0 {
		b.Rock, b.rockRate = 0, 0
		return
	}
	inertia := 4.0 / 3 * b.Mass * (b.balance*b.balance + b.Base*b.Base)
	b.rockRate += upset / inertia * mechanics.Step
	b.Rock += b.rockRate * mechanics.Step
	switch {
	case b.Rock <= 0:
		b.Rock, b.rockRate = 0, 0
	case b.Rock > math.Atan2(b.Base, b.balance):
		b.Fallen, b.Rock, b.rockRate = true, 0, 0
		t.set.Tell(Toppled)
	}
}

// Settle lets the pieces come to rest, and tells in how many steps.
func (t *Table) Settle(m Magnet) (steps int) {
	const most = int(settleTime / mechanics.Step)
	f := t.FieldOf(m)
	for steps < most {
		for _, b := range t.Pieces {
			if b.Magnet && b.Place == OnBoard {
				t.nudge(b, f)
			}
		}
		t.Advance(f)
		if steps++; t.allStill() {
			break
		}
	}
	return steps
}

// nudge starts a standing piece that other bases push harder than friction holds.
func (t *Table) nudge(b *Piece, f Field) {
	if b.vel != (frame.Spot[frame.Board]{}) {
		return
	}
	force, down := t.magnetic(b, f)
	push := t.repulsion(b).Add(force)
	if push.Norm() > b.Static*math.Max(0, b.Mass*gravity+down) {
		b.vel = push.Scale(mechanics.Step / b.Mass)
	}
}

func (t *Table) allStill() bool {
	for _, b := range t.Pieces {
		if b.Place == OnBoard && (b.vel != frame.Spot[frame.Board]{} || b.Rock != 0) {
			return false
		}
	}
	return true
}
