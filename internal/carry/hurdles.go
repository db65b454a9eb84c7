package carry

import (
	"math"

	"boardhand/internal/lanes"
)

// doubts is how many standard deviations of a measured place count: two, so
// that of a hundred men two stand a little further out, and even those are
// then within the placement and lag allowances.
const doubts = 2

// gap is what must stay between the feet of a carried and a standing man:
// independent errors, so their squares add. Once it moves, a carried man is
// where the magnet is, however it stood before.
func (l Limits) gap(other Man) float64 {
	return together(l.Placement, l.LagSpread, doubts*other.Sigma)
}

// together is the size of independent errors taken together.
func together(errors ...float64) float64 {
	sum := 0.0
	for _, e := range errors {
		sum += e * e
	}
	return math.Sqrt(sum)
}

// keep is the least distance between the centres of a carried man and a
// standing one: feet, errors and, when the other holds a magnet, the distance
// at which it stays put. more widens the magnetic part only.
func (l Limits) keep(carried, other Man, more float64) float64 {
	k := (carried.Foot+other.Foot)/2 + l.gap(other)
	if other.Magnet {
		k = math.Max(k, l.magnetic(other)+more)
	}
	return k
}

// magnetic is the least distance of the raised magnet from a man that must
// stay, with the errors of both places and of the forces.
func (l Limits) magnetic(other Man) float64 {
	return l.SafePass + together(l.SafeSpread, l.Placement, doubts*other.Sigma)
}

// carryField is where man i may be carried among the others.
func (p *Planner) carryField(men []Man, i int, more float64) lanes.Field {
	l := p.limits
	f := p.open(l.Sheet.Meet(l.Inside.Inset(l.Lag)))
	f.Hurdles = make([]lanes.Hurdle, 0, len(men))
	for k, m := range men {
		if k != i {
			f.Hurdles = append(f.Hurdles, lanes.Hurdle{At: m.At, Keep: l.keep(men[i], m, more)})
		}
	}
	return f
}

// loweredField is where the lowered magnet may travel to reach man i.
func (p *Planner) loweredField(men []Man, i int) lanes.Field {
	f := p.open(p.limits.Inside)
	if p.limits.LoweredPass == 0 {
		return f
	}
	for k, m := range men {
		if k != i && m.Magnet {
			f.Hurdles = append(f.Hurdles, lanes.Hurdle{At: m.At, Keep: p.limits.LoweredPass + together(p.limits.Placement, doubts*m.Sigma)})
		}
	}
	return f
}

// open is an empty field; the calm part ends at the outermost edge line less a
// quarter of a square, so that ways keep off the rim where they can.
func (p *Planner) open(in lanes.Rect) lanes.Field {
	rim := 3.75 * p.side
	return lanes.Field{Inside: in, Calm: lanes.Rect{Min: lanes.Spot{X: -rim, Y: -rim}, Max: lanes.Spot{X: rim, Y: rim}}}
}

// swerve are the shares of the lag by which the magnet's keep is widened when
// it would otherwise come too near to somebody while it runs ahead of the man:
// on a bend of radius R it runs lag²/2R further out, at a turn up to the lag.
var swerve = [...]float64{0, 0.05, 0.15, 0.4, 1}

// haul finds the way for man i, and the carriage's path for it, such that the
// raised magnet, which runs ahead of the man, passes the others safely too:
// the roomiest way that is hardly slower than the shortest.
func (d *draft) haul(i int, to lanes.Spot) (best haul, found bool) {
	l := d.p.limits
	from, limit := d.men[i].At, 0.0
	for _, share := range swerve {
		f := d.p.carryField(d.men, i, share*l.Lag)
		way, ok := f.Best(from, to, d.p.taste)
		if !ok {
			break
		}
		short := way
		if len(way.Points) > 2 {
			short, _ = f.Shortest(from, to)
		}
		if share == 0 {
			limit = (1 + slowerWays) * l.dragTime(short)
		}
		for _, w := range []lanes.Way{way, short} {
			h := haul{way: w, carriage: lead(w.Points, l.Lag, l.Settle)}
			if !d.p.passes(d.men, i, h.carriage) {
				continue
			}
			if h.time = runTime(h.carriage, l.CarrySpeed, l.CarryAccel); h.time <= limit {
				return h, true
			}
			if !found || h.time < best.time {
				best, found = h, true
			}
		}
	}
	return best, found
}

// passes says whether the raised magnet keeps its distance from the others
// along its path, or from where they stand at its ends, and stays in reach.
func (p *Planner) passes(men []Man, i int, path []lanes.Spot) bool {
	for _, s := range path {
		if !p.limits.Inside.Holds(s) {
			return false
		}
	}
	for k, m := range men {
		if k == i || !m.Magnet {
			continue
		}
		ends := math.Min(m.At.Distance(path[0]), m.At.Distance(path[len(path)-1]))
		need := math.Min(p.limits.magnetic(m), ends-p.limits.Lag)
		f := lanes.Field{Hurdles: []lanes.Hurdle{{At: m.At, Keep: need}}}
		if f.Measure(path).Spare < -near {
			return false
		}
	}
	return true
}

// near is 20 µm: twice what a polyline may stray from its arc.
const near = 20e-6
