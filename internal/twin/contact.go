package twin

import (
	"boardhand/internal/frame"
)

// Contact of two feet: almost no bounce (felt and wood, common practice), and
// a pair counts as parted once there is hairGap between them, so that one push
// is one collision.
const (
	bounce   = 0.1
	hairGap  = 0.0002 // m
	maxRound = 6      // rounds of pushing apart in one step: a row of six men passes a push on
)

// collide pushes overlapping feet apart, passes momentum on and counts every
// new contact. Only men moved by the machine come here: hands give way.
func (w *World) collide() {
	for range maxRound {
		if !w.collideOnce() {
			break
		}
	}
	for pair := range w.touches {
		a, b := w.men[pair[0]], w.men[pair[1]]
		if a.place != onBoard || b.place != onBoard || a.at.Distance(b.at) > a.foot+b.foot+hairGap {
			delete(w.touches, pair)
		}
	}
}

func (w *World) collideOnce() bool {
	found := false
	for _, a := range w.men {
		if a.place != onBoard || a.vel == (frame.Spot[frame.Board]{}) {
			continue
		}
		for _, b := range w.men {
			if a != b && b.place == onBoard && w.meet(a, b) {
				found = true
			}
		}
	}
	return found
}

// meet treats one pair; false when they do not overlap.
func (w *World) meet(a, b *body) bool {
	reach := a.foot + b.foot
	d := b.at.Sub(a.at)
	if d.X > reach || d.X < -reach || d.Y > reach || d.Y < -reach {
		return false
	}
	dist := d.Norm()
	if dist >= reach {
		return false
	}
	n := d.Unit()
	pair := [2]int{min(a.id, b.id), max(a.id, b.id)}
	if !w.touches[pair] {
		w.touches[pair] = true
		w.count.Collisions++
		w.acts(WideFoot)
	}
	a.pushed, b.pushed = true, true
	share := b.mass / (a.mass + b.mass) // the lighter one gives way more
	over := reach - dist + 1e-9
	a.at = a.at.Sub(n.Scale(over * share))
	b.at = b.at.Add(n.Scale(over * (1 - share)))
	if closing := a.vel.Sub(b.vel).Dot(n); closing > 0 {
		j := (1 + bounce) * closing * a.mass * b.mass / (a.mass + b.mass)
		a.vel = a.vel.Sub(n.Scale(j / a.mass))
		b.vel = b.vel.Add(n.Scale(j / b.mass))
	}
	return true
}
