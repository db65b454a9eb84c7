// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"context"
	"math"
	"slices"

	"boardhand/internal/carry/plan"
	"boardhand/internal/game"
	"boardhand/internal/lanes"
)

// stepAside lets own pieces make way for piece i and return, fewest first.
func (d *builder) stepAside(ctx context.Context, i int, to target) (bool, error) {
	firm := make([]bool, len(d.pieces))
	for range asideSets {
		if err := ctx.Err(); err != nil {
			return false, err
		}
		set := d.inTheWay(i, to, firm)
		if len(set) == 0 {
			return false, nil
		}
		if d.makeWay(set, i, to) {
			return true, nil
		}
		firm[set[0]] = true
	}
	return false, nil
}

// inTheWay is the smallest set of carried pieces whose leaving opens a lane.
func (d *builder) inTheWay(i int, to target, firm []bool) []int {
	f := d.p.carryField(d.pieces, i)
	for h := range f.Obstacles {
		k := d.pieceAt(i, h)
		f.Obstacles[h].Yields = d.pieces[k].Magnet && !firm[k]
	}
	w, ok := f.Through(d.pieces[i].At, to.at, detourSquares*d.p.side)
	if !ok {
		return nil
	}
	for n, h := range w.Yields {
		w.Yields[n] = d.pieceAt(i, h)
	}
	return w.Yields
}

// errand is one attempt at clearing the way for a piece.
type clearing struct {
	mover   int
	to      target
	set     []int
	path    []lanes.Spot // the mover's, with the set gone
	orphans []plan.Piece // the set as it stood
	left    int          // places that may still be tried
}

// makeWay parks the set, brings piece i and returns the set.
func (d *builder) makeWay(set []int, i int, to target) bool {
	gone := slices.Clone(d.pieces)
	e := &clearing{mover: i, to: to, set: set, left: asidePlaces}
	for _, k := range set {
		e.orphans = append(e.orphans, d.pieces[k])
		gone[k].At = lanes.Spot{X: 1e3, Y: 1e3} // out of everything's way
	}
	path, ok := d.p.carryField(gone, i).Best(d.pieces[i].At, to.at, d.p.taste)
	if !ok {
		return false
	}
	e.path = path.Points
	done := d.fork().park(e, 0)
	if done == nil {
		return false
	}
	*d = *done
	return true
}

// park sends the n-th piece of the set to a place clear of the way and goes on
// with the next; with all parked it brings the mover and sends them home.
func (d *builder) park(e *clearing, n int) *builder {
	if n == len(e.set) {
		return d.passAndReturn(e)
	}
	k := e.set[n]
	for _, place := range d.places(e, k) {
		if e.left--; e.left < 0 {
			return nil
		}
		try := d.fork()
		if !try.tryCarry(k, target{place, d.pieces[k].Square}) {
			continue
		}
		try.steps[len(try.steps)-2].Text = "steps aside"
		try.aside++
		if done := try.park(e, n+1); done != nil {
			return done
		}
	}
	return nil
}

// passAndReturn brings the mover and then the parked pieces home, last out
// first back.
func (d *builder) passAndReturn(e *clearing) *builder {
	if !d.tryCarry(e.mover, e.to) {
		return nil
	}
	for n := len(e.set) - 1; n >= 0; n-- {
		k := e.set[n]
		home := d.p.home(e.orphans[n])
		if d.pieces[k].At == home {
			continue // it was only set straight
		}
		if !d.tryCarry(k, target{home, d.pieces[k].Square}) {
			return nil
		}
		d.steps[len(d.steps)-2].Text = "returns"
	}
	return d
}

// home is where a piece belongs: the middle of its square, or its slot.
func (p *Planner) home(m plan.Piece) lanes.Spot {
	if m.Square >= game.NoSquare {
		return m.At
	}
	return p.Centre(m.Square)
}

// places lists where piece k may wait: clear of everyone and of the mover's
// way, its own middle first, then the nearest.
func (d *builder) places(e *clearing, k int) []lanes.Spot {
	f := d.p.carryField(d.pieces, k)
	var out []lanes.Spot
	try := func(s lanes.Spot) {
		if f.Inside.Holds(s) && f.Measure([]lanes.Spot{s, s}).Spare >= 0 && d.clears(e, k, s) {
			out = append(out, s)
		}
	}
	try(d.p.home(d.pieces[k]))
	for _, r := range asideRings {
		for a := range asideRays {
			sin, cos := math.Sincos(float64(a) * 2 * math.Pi / asideRays)
			try(lanes.Spot{X: d.pieces[k].At.X + r*d.p.side*cos, Y: d.pieces[k].At.Y + r*d.p.side*sin})
		}
	}
	return out
}

// clears says whether piece k standing at s leaves the mover's way free.
func (d *builder) clears(e *clearing, k int, s lanes.Spot) bool {
	m := d.pieces[k]
	m.Sigma = d.p.limits.arrival()
	keep := d.p.limits.lane(d.pieces[e.mover], m)
	f := lanes.Field{Obstacles: []lanes.Obstacle{{At: s, Keep: keep}}}
	return f.Measure(e.path).Spare >= 0
}
