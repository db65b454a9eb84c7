// SPDX-License-Identifier: Apache-2.0

package mechanics

import (
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/rig"
)

// Run is a controller working off a stroke, step by step: of the three it
// can do with its acceleration (more, the same, less, as fast as the jerk
// allows) it does the first with which it can still slow down in time for
// everything ahead. It knows no profile beforehand.
type Run struct {
	*course
	leg   int
	along float64 // m
	speed float64 // m/s
	accel float64 // m/s², now
	held  held
	rest  float64 // m along the way: where it comes to rest while it is held
}

// NewRun begins a stroke where the motors are; boost is by how much speed,
// acceleration and jerk exceed what the stroke and the rig allow, 1: not at all.
func (c *Carriage) NewRun(s motion.Stroke, boost float64) *Run {
	return newRun(c.rig, c.Motors(), s, boost)
}

func newRun(r *rig.Rig, at frame.Spot[frame.Machine], s motion.Stroke, boost float64) *Run {
	return &Run{course: newCourse(r, at, s, boost)}
}

// End is where the stroke ends, m.
func (p *Run) End() frame.Spot[frame.Machine] { return p.end }

// Next is where the motors are to be one step later; false at the end.
func (p *Run) Next() (frame.Spot[frame.Machine], bool) {
	if p.leg >= len(p.legs) {
		return p.end, false
	}
	if p.held == standing {
		return p.here(), true
	}
	p.choose()
	p.stand()
	for p.along >= p.legs[p.leg].start+p.legs[p.leg].length {
		l := p.legs[p.leg]
		p.leg++
		if l.stop {
			p.along, p.speed, p.accel = l.start+l.length, 0, 0
			break
		}
	}
	if p.leg >= len(p.legs) {
		return p.end, true
	}
	return p.here(), true
}

// here is where the motors are to be now, on the leg under way.
func (p *Run) here() frame.Spot[frame.Machine] {
	l := p.legs[p.leg]
	return l.at(p.along - l.start)
}

// choose takes the first change of acceleration that is safe.
func (p *Run) choose() {
	for _, j := range [3]float64{p.jerk, 0, -p.jerk} {
		a := max(-p.most, min(p.most, p.accel+j*Step))
		v := p.speed + (p.accel+a)/2*Step
		s := p.along + (p.speed+v)/2*Step
		if j > -p.jerk && (v < 0 || !p.safe(s, v, a)) {
			continue
		}
		if v < creep {
			v, a = creep, max(a, 0)
			s = max(s, p.along+creep*Step)
		}
		p.along, p.speed, p.accel = s, v, a
		return
	}
}

// safe says whether at speed v with acceleration a every limit ahead can be kept.
func (p *Run) safe(s, v, a float64) bool {
	if v+max(a, 0)*max(a, 0)/(2*p.jerk) > p.legs[p.leg].speed || p.held == slowing && p.braking(v, a, 0) > p.rest-s {
		return false
	}
	for k := p.leg; k < len(p.legs); k++ {
		l := p.legs[k]
		ahead := l.start - s
		if k > p.leg && p.braking(v, a, l.speed) > ahead {
			return false
		}
		if l.stop {
			return p.braking(v, a, 0) <= l.start+l.length-s
		}
		if ahead > p.braking(v, a, 0) {
			return true
		}
	}
	return true
}

// braking is the way needed from speed v with acceleration a down to speed w
// without acceleration, metres: first the acceleration goes, then the speed
// falls with the jerk and the acceleration at their limits. A brake already on
// is one that began at a higher speed a little earlier. Exact, textbook.
func (p *Run) braking(v, a, w float64) float64 {
	t := math.Abs(a) / p.jerk
	swing := a * t / 2 // of the speed while the acceleration goes, signed
	if a > 0 {
		top := v + swing
		if top <= w {
			return 0
		}
		return t*(v+a*t/2-p.jerk*t*t/6) + p.drop(top, w)
	}
	if v <= w {
		return 0
	}
	if v+swing < w { // more brake than needed: as it is, it gets there
		return (v*v - w*w) / (2 * -a)
	}
	began := v - swing
	return p.drop(began, w) - t*(began-p.jerk*t*t/6)
}

// drop is the way from speed v down to w, both without acceleration.
func (p *Run) drop(v, w float64) float64 {
	d, a := v-w, p.most
	if d*p.jerk >= a*a {
		return (v + w) / 2 * (d/a + a/p.jerk)
	}
	return (v + w) * math.Sqrt(d/p.jerk)
}
