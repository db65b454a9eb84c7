// SPDX-License-Identifier: Apache-2.0

package diagnosis

import (
	"math"

	"boardhand/internal/frame"
)

// ending is how a carry can end, as the model tells them apart.
type ending int

const (
	endArrived   ending = iota
	endStill            // where it stood, exactly
	endDisplaced        // near where it stood
	endShort            // on the way, or aside
	endToppled
	endUnseen
	endings
)

// soundEndings are the shares of carries of a sound machine that end so: one in
// about seventy does not arrive, for reasons that are no part's fault (a guest's
// sleeve, a crumb). No source; TestPriorsHardlyMatter varies it.
var soundEndings = [endings]float64{0.985, 0.003, 0.002, 0.004, 0.002, 0.004}

// lostAgain are the same shares where the carry before has lost the piece on its way and
// nobody has touched it since: what has lost it is there still, or it lies. No source; one
// in two arrives, and the rest is spread as by StickyBoard.
var lostAgain = [endings]float64{0.5, 0.05, 0.08, 0.3, 0.04, 0.03}

// effect is what one cause does to one carry: with the chance share it acts
// at all, and then the carry ends so; a displaced piece lies wander metres off
// (standard deviation per coordinate), and on the way it is lost at the place
// seen along times as likely as anywhere; of those lost, the share aside lies off the way.
type effect struct {
	share  float64
	ends   [endings]float64
	wander float64
	along  float64
	aside  float64
}

// chance is the density of what was seen of a carry under one way for it to
// end, per square metre where a displacement was measured.
func (e effect) chance(s Symptom, noise float64) float64 {
	switch s.Outcome {
	case Arrived:
		return e.ends[endArrived]
	case Stayed:
		d := s.Found.Distance(s.From)
		return e.ends[endStill]*plane(d, noise) + e.ends[endDisplaced]*plane(d, math.Hypot(noise, e.wander))
	case Short:
		if _, d := frame.Nearest(s.Path, s.Found); d > offTheWay {
			return e.ends[endShort] * e.along * e.aside
		}
		return e.ends[endShort] * e.along * (1 - e.aside)
	case Toppled:
		return e.ends[endToppled]
	}
	return e.ends[endUnseen]
}

// plane is the density of a displacement d in the plane, normal with sigma per
// coordinate; one in a thousand measurements is a blunder anywhere within 2 cm.
func plane(d, sigma float64) float64 {
	const blunder, far = 1e-3, 0.02
	v := sigma * sigma
	return (1-blunder)*math.Exp(-d*d/2/v)/(2*math.Pi*v) + blunder/(math.Pi*far*far)
}

// acts is the effect of a hypothesis on a carry.
func (h hypothesis) acts(s Symptom, p physics) (effect, bool) {
	k := p.of(s.Piece.Kind)
	e := effect{share: 1, wander: soundWander, along: 1, aside: leftAside}
	switch h.cause {
	case MagnetMissing, MagnetFlipped:
		return h.ofFootMagnet(e, k), h.piece == s.Piece
	case DriveMagnetWeak, LiftStaysDown, LiftStaysUp:
		e = h.ofLift(e, k)
		return e, e.share > 1e-9
	}
	return h.onTheWay(e, s)
}

// ofFootMagnet is what the magnet in a piece's own base does.
func (h hypothesis) ofFootMagnet(e effect, k kindPhysics) effect {
	switch h.cause {
	case MagnetMissing:
		e.ends = [endings]float64{0.002, 0.96, 0.01, 0.004, 0.004, 0.02}
	case MagnetFlipped:
		// It is pushed off the magnet when that rises, to somewhere within its
		// flight, and then pushed on by the passing carriage, or over, so that no
		// picture is read to show it. Shares by eye, of 24 such carries in the twin.
		moved := 1 - k.stays
		e.ends = [endings]float64{0.01, 0.99 * k.stays, 0.2 * moved, 0.45 * moved, 0.1 * moved, 0.24 * moved}
		e.wander, e.aside = k.flight/1.5, 0.8
	}
	return e
}

// ofLift is what the drive magnet and its lift do.
func (h hypothesis) ofLift(e effect, k kindPhysics) effect {
	switch h.cause {
	case DriveMagnetWeak:
		e.share = k.slips[h.variant]
		// The weaker, the surer it never breaks loose; one that does is lost on the way.
		loose := 1 - e.share
		e.ends = [endings]float64{0.002, 0.96 - 0.46*loose, 0.01 + 0.2*loose, 0.01 + 0.25*loose, 0.004 + 0.005*loose, 0.014 + 0.005*loose}
		e.wander = k.wanders
	case LiftStaysDown:
		e.share = h.jams()
		e.ends = [endings]float64{0.002, 0.96, 0.01, 0.004, 0.004, 0.02}
	case LiftStaysUp:
		// The piece of the move before is still held: it goes along, pushes this
		// one off its magnet, and is carried in its place. Shares by eye, of 25
		// such carries in the twin.
		e.share, e.aside = h.jams()/2, soundAside
		e.ends = [endings]float64{0.4, 0.2, 0.2, 0.12, 0.05, 0.03}
	}
	return e
}

// onTheWay is what axes, bases, board and camera do.
func (h hypothesis) onTheWay(e effect, s Symptom) (effect, bool) {
	switch h.cause {
	case AxisOverdriven:
		e.share, e.aside = 0.2, soundAside
		e.ends = [endings]float64{0.4, 0.08, 0.12, 0.3, 0.07, 0.03}
		return e, true
	case BaseTooWide:
		e.share, e.aside = 0.1, soundAside
		e.ends = [endings]float64{0.7, 0.02, 0.03, 0.15, 0.07, 0.03}
		return e, h.concerns(s)
	case StickyBoard:
		e.share = 1 - math.Exp(-catches[h.variant]*length(s.Path))
		e.ends = [endings]float64{0.05, 0.1, 0.15, 0.6, 0.08, 0.02}
		return e, e.share > 0
	case StickyPlace:
		return h.sticks(s, e)
	case CameraFrozen:
		e.share = 0.9
		e.ends = [endings]float64{0.02, 0.95, 0.01, 0.005, 0.005, 0.01}
		return e, true
	}
	return e, false
}

// Variants that are weighed against one another, all equally likely.
var (
	jams    = []float64{1, 0.35}         // how often the lift jams
	catches = []float64{0.5, 1.5, 5, 15} // places where a piece catches, per metre of way
	drops   = []float64{0.05, 0.2, .5}   // share of the pictures that do not come
	touches = []float64{0.4, 0.12, 0.04} // pieces that one carry pushes, if bases are too wide
)

// sticks is what one sticky place does: it holds who comes across it.
func (h hypothesis) sticks(s Symptom, e effect) (effect, bool) {
	if _, d := frame.Nearest(s.Path, h.place); d > stickyRadius && h.place.Distance(s.From) > stickyRadius {
		return e, false
	}
	e.share, e.along = 0.6, 0
	e.ends = [endings]float64{0.1, 0.05, 0.05, 0.72, 0.06, 0.02}
	if h.place.Distance(s.From) < stickyRadius {
		e.ends = [endings]float64{0.1, 0.45, 0.2, 0.17, 0.06, 0.02}
	}
	if s.Found.Distance(h.place) < stickyRadius {
		e.along = math.Max(1, length(s.Path)/(2*stickyRadius))
	}
	return e, true
}
