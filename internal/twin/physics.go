package twin

import (
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/twin/mechanics"
)

// stillSpeed is where a man without drive counts as standing: 1e-6 m/s moves
// him 1 µm in a second.
const stillSpeed = 1e-6

// field is the drive magnet as the men feel it.
type field struct {
	at  frame.Spot[frame.Board]
	gap float64 // between the facing magnet faces there, m
}

// field gives the drive magnet's state now.
func (w *World) field() field {
	at := w.carriage.Magnet()
	return field{at: at, gap: w.gapAt(at)}
}

// gapAt is the distance between the facing magnet faces at a spot: sheet, air
// and recess, the drop as far as the lift is down, and what the spring leaves
// open over the warp.
func (w *World) gapAt(at frame.Spot[frame.Board]) float64 {
	return float64(w.rig.Gap()) + w.openAt(at) + (1-w.carriage.Lift)*float64(w.rig.Lift.Drop)
}

// openAt is how far the raised magnet stays from where its spring would press
// it: nothing while the spring has force left. Without a spring the magnet
// keeps its height and the board's warp opens or closes the gap.
func (w *World) openAt(at frame.Spot[frame.Board]) float64 {
	z := w.warp.at(at)
	l := w.rig.Lift
	if l.Spring <= 0 {
		return math.Max(z, -float64(l.Air))
	}
	return math.Max(0, z-float64(l.Preload)/float64(l.Spring))
}

// contact is the force between the raised magnet's cap and the underside:
// spring (or, without one, the bent board) plus the pull of the men, newtons.
func (w *World) contact(at frame.Spot[frame.Board], pull float64) float64 {
	if w.carriage.Lift < 1 {
		return 0
	}
	l, z := w.rig.Lift, w.warp.at(at)
	press := float64(l.Preload) - float64(l.Spring)*z
	if l.Spring <= 0 {
		press = boardStiffness * math.Max(0, -z-float64(l.Air))
	}
	return math.Max(0, press+math.Max(0, pull))
}

// boardStiffness of a 4 mm plywood sheet pressed in its middle, N/m: a plate
// of 0.3 m held at its edges, 16πD·…; order of magnitude only, from memory.
const boardStiffness = 8000

// advance moves the men by one step and returns the force they put on the
// drive magnet, newtons: the reaction of every pull.
func (w *World) advance(f field) (load frame.Spot[frame.Board], axial float64) {
	moved := false
	for _, b := range w.men {
		still := b.vel == frame.Spot[frame.Board]{} && b.rock == 0
		if b.place != onBoard || (still && !b.magnet) {
			continue
		}
		force, down := w.magnetic(b, f)
		if still && down == 0 && force == (frame.Spot[frame.Board]{}) {
			continue
		}
		load = load.Sub(force)
		axial += down
		force = force.Add(w.repulsion(b))
		if w.slide(b, force, down) {
			moved = true
		}
	}
	if moved {
		w.collide()
	}
	w.now += mechanics.Step
	return load, axial
}

// magnetic is the drive magnet's pull on a man: lateral, and down.
func (w *World) magnetic(b *body, f field) (frame.Spot[frame.Board], float64) {
	if !b.magnet || b.fallen {
		return frame.Spot[frame.Board]{}, 0
	}
	d := f.at.Sub(b.pole())
	if math.Abs(d.X) > w.pull.reach || math.Abs(d.Y) > w.pull.reach {
		return frame.Spot[frame.Board]{}, 0
	}
	dist := d.Norm()
	axial, lateral := w.pull.at(f.gap, dist)
	if dist == 0 {
		return frame.Spot[frame.Board]{}, b.strength * axial
	}
	return d.Scale(b.strength * lateral / dist), b.strength * axial
}

// repulsion is the push of the other feet's magnets on a man.
func (w *World) repulsion(b *body) (force frame.Spot[frame.Board]) {
	if !b.magnet {
		return force
	}
	for _, o := range w.men {
		if o == b || !o.magnet || o.place != onBoard {
			continue
		}
		d := b.pole().Sub(o.pole())
		if math.Abs(d.X) > w.pull.spread || math.Abs(d.Y) > w.pull.spread {
			continue
		}
		push := b.strength * o.strength * w.pull.apart(d.Norm())
		force = force.Add(d.Unit().Scale(push))
	}
	return force
}

// slide applies a lateral force and the friction of the board for one step.
// The normal force is weight plus the magnet's pull down, never below zero:
// near the rim of the field the magnet carries part of the weight.
func (w *World) slide(b *body, force frame.Spot[frame.Board], down float64) bool {
	normal := math.Max(0, b.mass*gravity+down)
	glue := w.patch.holds(b)
	if b.vel.Norm() < stillSpeed && force.Norm() <= b.static*normal+glue {
		b.vel = frame.Spot[frame.Board]{}
		w.rocking(b, 0, normal)
		return false
	}
	before := b.vel
	v := b.vel.Add(force.Scale(mechanics.Step / b.mass))
	brake := (b.kinetic*normal + glue) * mechanics.Step / b.mass
	if speed := v.Norm(); speed <= brake {
		v = frame.Spot[frame.Board]{}
	} else {
		v = v.Scale(1 - brake/speed)
	}
	b.vel = v
	b.at = b.at.Add(v.Scale(mechanics.Step))
	b.swivel(force, b.kinetic*normal+glue)
	gain := v.Sub(before)
	if n := gain.Norm(); n > 0 {
		b.heading = gain.Scale(1 / n)
	}
	w.rocking(b, gain.Norm()/mechanics.Step, normal)
	w.unsupported(b)
	return true
}

// rocking tips a man about the rim of his foot: the inertia of his centre of
// mass against weight and pull. A man tipped beyond his balance falls.
//
// I θ̈ = m a h − N (r − h θ) with N = m g + pull, I = 4/3 m (h² + r²): a turned
// man as a rod on its end. Small angles, until he falls.
// Source: rigid body on a rim, textbook mechanics; the inertia from memory.
func (w *World) rocking(b *body, accel, normal float64) {
	upset := b.mass*accel*b.balance - normal*(b.foot-b.balance*b.rock)
	if b.rock <= 0 && upset <= 0 {
		b.rock, b.rockRate = 0, 0
		return
	}
	inertia := 4.0 / 3 * b.mass * (b.balance*b.balance + b.foot*b.foot)
	b.rockRate += upset / inertia * mechanics.Step
	b.rock += b.rockRate * mechanics.Step
	switch {
	case b.rock <= 0:
		b.rock, b.rockRate = 0, 0
	case b.rock > math.Atan2(b.foot, b.balance):
		b.fallen, b.rock, b.rockRate = true, 0, 0
		w.count.Toppled++
	}
}

// settle lets the men come to rest.
func (w *World) settle() {
	const most = int(0.5 / mechanics.Step) // half a second: a man at 0.3 m/s stops within 0.15 s
	f := w.field()
	for range most {
		for _, b := range w.men {
			if b.magnet && b.place == onBoard {
				w.nudge(b, f)
			}
		}
		w.advance(f)
		if w.allStill() {
			return
		}
	}
}

// nudge starts a standing man whom other feet push harder than friction holds.
func (w *World) nudge(b *body, f field) {
	if b.vel != (frame.Spot[frame.Board]{}) {
		return
	}
	force, down := w.magnetic(b, f)
	push := w.repulsion(b).Add(force)
	if push.Norm() > b.static*math.Max(0, b.mass*gravity+down) {
		b.vel = push.Scale(mechanics.Step / b.mass)
	}
}

func (w *World) allStill() bool {
	for _, b := range w.men {
		if b.place == onBoard && (b.vel != frame.Spot[frame.Board]{} || b.rock != 0) {
			return false
		}
	}
	return true
}
