// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"math"

	"boardhand/internal/carry/plan"
	"boardhand/internal/carry/trajectory"
	"boardhand/internal/lanes"
)

// carryField is where the magnet may carry piece i among the others.
func (p *Planner) carryField(pieces []plan.Piece, i int) lanes.Field {
	l := p.limits
	f := p.open(l.Sheet.Meet(l.Inside.Inset(l.Lag)))
	f.Obstacles = make([]lanes.Obstacle, 0, len(pieces))
	for k, m := range pieces {
		if k != i {
			f.Obstacles = append(f.Obstacles, lanes.Obstacle{At: m.At, Keep: l.lane(pieces[i], m)})
		}
	}
	return f
}

// pieceAt is the piece behind obstacle h in the field of piece i.
func (d *builder) pieceAt(i, h int) int {
	if h >= i {
		return h + 1
	}
	return h
}

// bareField is the same without what the lag drags a piece further in.
func (p *Planner) bareField(pieces []plan.Piece, i int) lanes.Field {
	f := p.carryField(pieces, i)
	for k := range f.Obstacles {
		m := k
		if k >= i {
			m++
		}
		f.Obstacles[k].Keep = p.limits.keep(pieces[i], pieces[m])
	}
	return f
}

// loweredField is where the lowered magnet may travel to reach piece i.
func (p *Planner) loweredField(pieces []plan.Piece, i int) lanes.Field {
	f := p.open(p.limits.Inside)
	if p.limits.LoweredPass == 0 {
		return f
	}
	for k, m := range pieces {
		if k != i && m.Magnet {
			f.Obstacles = append(f.Obstacles, lanes.Obstacle{At: m.At, Keep: p.limits.LoweredPass + together(p.limits.Placement, doubts*m.Sigma)})
		}
	}
	return f
}

// open is an empty field; the calm part ends at the outermost edge line less a
// quarter of a square, so that ways keep off the rim where they can.
func (p *Planner) open(in lanes.Rect) lanes.Field {
	x, y := p.squares.Half()
	rim := lanes.Spot{X: x - p.side/4, Y: y - p.side/4}
	return lanes.Field{Inside: in, Favoured: lanes.Rect{Min: lanes.Spot{X: -rim.X, Y: -rim.Y}, Max: rim}}
}

// transport finds the way for piece i, and the carriage's path for it: the roomiest
// way that is hardly slower than the shortest clear one. Where that runs
// through a lane too tight, by a hair, for a piece that is dragged round bends
// further in, it cuts them by that hair.
func (d *builder) transport(i int, to lanes.Spot) (transport, bool) {
	f := d.p.carryField(d.pieces, i)
	path, ok := f.Best(d.pieces[i].At, to, d.p.taste)
	h := d.p.transportAlong(path)
	if ok && len(path.Points) == 2 {
		return h, d.p.passes(d.pieces, i, h.carriage)
	}
	bare, open := d.p.bareField(d.pieces, i).Shortest(d.pieces[i].At, to)
	if !open {
		return h, ok && d.p.passes(d.pieces, i, h.carriage)
	}
	short := d.p.transportAlong(bare)
	limit := (1 + slowerPaths) * short.time
	if ok && h.time > limit {
		if w, found := f.Shortest(d.pieces[i].At, to); found {
			h = d.p.transportAlong(w)
		}
	}
	if (!ok || h.time > limit) && d.squeezes(i, short) {
		h, ok = short, true
	}
	return h, ok && d.p.passes(d.pieces, i, h.carriage)
}

func (p *Planner) transportAlong(w lanes.Path) transport {
	h := transport{path: w, carriage: trajectory.Lead(w.Points, p.limits.Limits)}
	h.time = trajectory.Time(h.carriage, p.limits.Carry)
	return h
}

// grazing is how far a piece may come below its distance from another in a tight
// lane, metres: on a round of 15 mm a lag of 1.3 mm drags it 0.06 mm further
// in. A hair's width, a seventh of the placement error in that distance.
const grazing = 70e-6

// squeezes says whether piece i, dragged along a path that is clear for the
// magnet and for the base over it, comes no nearer to the others than a hair.
func (d *builder) squeezes(i int, h transport) bool {
	f := d.p.bareField(d.pieces, i)
	piece := trajectory.Trail(h.carriage, d.p.limits.Limits)
	for k, u := range f.Obstacles {
		o := d.pieces[d.pieceAt(i, k)]
		ends := math.Min(u.At.Distance(piece[0]), u.At.Distance(piece[len(piece)-1]))
		f.Obstacles[k].Keep = math.Min(d.p.limits.bases(d.pieces[i], o), ends)
	}
	return f.Measure(piece).Spare >= -grazing
}

// passes says whether the raised magnet keeps its distance from the others
// along its path, or from where they stand at its ends, and stays in reach.
func (p *Planner) passes(pieces []plan.Piece, i int, path []lanes.Spot) bool {
	for _, s := range path {
		if !p.limits.Inside.Holds(s) {
			return false
		}
	}
	for k, m := range pieces {
		if k == i || !m.Magnet {
			continue
		}
		ends := math.Min(m.At.Distance(path[0]), m.At.Distance(path[len(path)-1]))
		need := math.Min(p.limits.magnetic(m), ends-p.limits.Lag)
		f := lanes.Field{Obstacles: []lanes.Obstacle{{At: m.At, Keep: need}}}
		if f.Measure(path).Spare < -near {
			return false
		}
	}
	return true
}

// near is 20 µm: twice what a polyline may stray from its arc.
const near = 20e-6
