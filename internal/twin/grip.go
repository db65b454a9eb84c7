package twin

import (
	"boardhand/internal/carry"
	"boardhand/internal/frame"
)

// How far a man must have been moved by the magnet to count as dragged along:
// 0.3 mm is seen by nobody and disturbs nothing.
const dragged = 0.0003

// plainly is how far a man must have been moved for a picture to show it, m:
// five standard deviations of what two pictures measure.
const plainly = 0.005

// beginStroke notes where everybody stands.
func (w *World) beginStroke() {
	for _, b := range w.men {
		b.since, b.pushed = b.at, false
	}
	w.patch = stickyPatch{}
	w.held = w.grip
}

// endStroke counts the men that were moved and should not have been.
func (w *World) endStroke() {
	moved := false
	for _, b := range w.men {
		moved = moved || b.place == onBoard && b.at.Distance(b.since) > plainly
		if b != w.held && b != w.grip && b.place == onBoard && !b.pushed && b.at.Distance(b.since) > dragged {
			w.count.Drags++
		}
	}
	if moved && w.carriage.IsCaught() {
		w.acts(LiftStaysUp)
	}
	w.held = nil
}

// takeGrip finds the man that the magnet holds after the lift has moved: the
// nearest within the offset of the largest pull.
func (w *World) takeGrip() {
	w.grip = nil
	if w.carriage.Lift < 1 {
		return
	}
	best := w.pull.peak
	for _, b := range w.men {
		if d := b.pole().Distance(w.carriage.Magnet()); b.magnet && b.strength > 0 && b.place == onBoard && d < best {
			best, w.grip = d, b
		}
	}
}

// watchGrip notes when the held man is lost, and when another is picked up.
func (w *World) watchGrip() {
	if w.carriage.Lift < 1 {
		return
	}
	if w.grip == nil {
		w.takeGrip()
		return
	}
	if w.grip.place == gone { // down the chute, as he was meant to
		w.grip = nil
		return
	}
	if w.grip.place != onBoard || w.grip.pole().Distance(w.carriage.Magnet()) > lostAt*w.pull.peak {
		w.count.Slips++
		w.acts(WeakMagnet)
		w.grip = nil
	}
}

// lostAt: at three times the offset of the largest pull less than a tenth of it
// is left. Nearer a light man may still come back, since the magnet's ring
// takes most of his weight off the board.
const lostAt = 3.0

// stickyPatch is a place where something was spilt.
type stickyPatch struct {
	at    frame.Spot[frame.Board]
	reach float64
}

// drawPatch decides whether the stroke about to begin meets a sticky patch,
// and where on its way.
func (w *World) drawPatch(s carry.Stroke) stickyPatch {
	if !w.faults[Slip] || w.grip == nil || len(s.Path) == 0 || w.chance.Float64() > stickyShare {
		return stickyPatch{}
	}
	from, to := w.carriage.Magnet(), w.carriage.Truly(s.Path[w.chance.IntN(len(s.Path))])
	at := from.Add(to.Sub(from).Scale(0.3 + 0.7*w.chance.Float64()))
	if at.Distance(w.grip.at) < stickyReach { // he does not stand in it already
		return stickyPatch{}
	}
	w.acts(Slip)
	return stickyPatch{at: at, reach: stickyReach}
}

// holds is the force with which the patch holds a man on it, N. It does not go
// with his weight: friction alone could not hold him, because the magnet's ring
// lifts most of the weight off a man who stays behind.
func (p stickyPatch) holds(b *body) float64 {
	if p.reach > 0 && b.at.Distance(p.at) < p.reach {
		return stickyHold
	}
	return 0
}
