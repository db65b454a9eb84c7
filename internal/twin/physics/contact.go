// SPDX-License-Identifier: Apache-2.0

package physics

import (
	"boardhand/internal/frame"
)

// collide pushes overlapping bases apart, passes momentum on and counts every
// new contact. Only pieces moved by the machine come here: hands give way.
func (t *Table) collide() {
	for range maxRound {
		if !t.collideOnce() {
			break
		}
	}
	for pair := range t.touches {
		a, b := t.Pieces[pair[0]], t.Pieces[pair[1]]
		if a.Place != OnBoard || b.Place != OnBoard || a.At.Distance(b.At) > a.Base+b.Base+hairGap {
			delete(t.touches, pair)
		}
	}
}

func (t *Table) collideOnce() bool {
	found := false
	for _, a := range t.Pieces {
		if a.Place != OnBoard || a.vel == (frame.Spot[frame.Board]{}) {
			continue
		}
		for _, b := range t.Pieces {
			if a != b && b.Place == OnBoard && t.meet(a, b) {
				found = true
			}
		}
	}
	return found
}

// meet treats one pair; false when they do not overlap.
func (t *Table) meet(a, b *Piece) bool {
	reach := a.Base + b.Base
	d := b.At.Sub(a.At)
	if d.X > reach || d.X < -reach || d.Y > reach || d.Y < -reach {
		return false
	}
	dist := d.Norm()
	if dist >= reach {
		return false
	}
	n := d.Unit()
	pair := [2]int{min(a.ID, b.ID), max(a.ID, b.ID)}
	if !t.touches[pair] {
		t.touches[pair] = true
		t.set.Tell(Collided)
	}
	a.pushed, b.pushed = true, true
	share := b.Mass / (a.Mass + b.Mass) // the lighter one gives way more
	over := reach - dist + 1e-9
	a.At = a.At.Sub(n.Scale(over * share))
	b.At = b.At.Add(n.Scale(over * (1 - share)))
	if closing := a.vel.Sub(b.vel).Dot(n); closing > 0 {
		j := (1 + bounce) * closing * a.Mass * b.Mass / (a.Mass + b.Mass)
		a.vel = a.vel.Sub(n.Scale(j / a.Mass))
		b.vel = b.vel.Add(n.Scale(j / b.Mass))
	}
	return true
}
