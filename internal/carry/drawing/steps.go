// SPDX-License-Identifier: Apache-2.0

package drawing

import (
	"fmt"
	"math"
	"slices"

	"boardhand/internal/carry/plan"
	"boardhand/internal/draw"
	"boardhand/internal/game"
	"boardhand/internal/unit"
)

// step draws one step in the scene before it.
func (d *drawing) step(now plan.Scene, n int) {
	s := d.Plan.Steps[n]
	switch s.Do {
	case plan.Travel:
		d.line(s.Path, travelLine)
	case plan.Carry:
		d.line(s.PiecePath, draw.Ink{Width: 1, Paper: true}) // shows the way where it leaves a filled ring
		d.line(s.Path, magnetLine)
		d.line(s.PiecePath, pieceLine)
		d.arrow(s.PiecePath)
		d.arrival(now, s)
		d.measure(now, s)
	case plan.Ask:
		d.point(now, s)
	}
}

// line draws a line through spots.
func (d *drawing) line(path []spot, i draw.Ink) {
	var xs, ys []float64
	for _, p := range path {
		x, y := d.on(p)
		xs, ys = append(xs, x), append(ys, y)
	}
	if len(xs) > 0 {
		d.Line(xs, ys, i)
	}
}

// arrow puts a slim head in the middle of a way.
func (d *drawing) arrow(path []spot) {
	left := lengthOf(path) / 2
	for i := 1; i < len(path); i++ {
		a, b := path[i-1], path[i]
		l := a.Distance(b)
		if left > l || l == 0 {
			left -= l
			continue
		}
		u := spot{X: (b.X - a.X) / l, Y: (b.Y - a.Y) / l}
		at := func(ahead, aside float64) spot {
			return a.Add(u.Scale(left + ahead)).Add(spot{X: -u.Y, Y: u.X}.Scale(aside))
		}
		d.line([]spot{at(-1.5e-3, 1.1e-3), at(1.5e-3, 0), at(-1.5e-3, -1.1e-3)}, draw.Ink{Width: 0.4})
		return
	}
}

// arrival is a dashed ring where the carried piece will stand.
func (d *drawing) arrival(now plan.Scene, s plan.Step) {
	if held := now.Held(s); held >= 0 {
		d.circle(s.PiecePath[len(s.PiecePath)-1], now.Pieces[held].Base*500, draw.Ink{Width: 0.35, Dash: []float64{1, 0.8}})
	}
}

// point rings the squares a person is asked about.
func (d *drawing) point(now plan.Scene, s plan.Step) {
	ringed := map[game.Square]bool{game.NoSquare: true}
	for _, one := range s.Single() {
		for _, sq := range []game.Square{one.From, one.To} {
			if !ringed[sq] {
				d.circle(d.centre(sq), askedRing*d.side, draw.Ink{Width: 0.7, Signal: true})
				ringed[sq] = true
			}
		}
	}
}

// measure notes the narrowest places of a carry.
func (d *drawing) measure(now plan.Scene, s plan.Step) {
	held := now.Held(s)
	if held < 0 {
		return
	}
	var all []measure
	for k, m := range now.Pieces {
		if k == held {
			continue
		}
		where, dist := nearestOn(s.PiecePath, m.At)
		bases := (m.Base + now.Pieces[held].Base) / 2
		all = append(all, measure{where, m.At, now.Pieces[held].Base / 2, dist - bases, d.Keep(now.Pieces[held], m) - bases})
	}
	slices.SortFunc(all, func(a, b measure) int { return int(math.Copysign(1, a.gap-b.gap)) })
	for _, m := range all[:min(len(all), mostMeasures)] {
		if m.gap*1e3 < widestGap*d.side {
			d.tight = append(d.tight, m)
		}
	}
}

// nearestOn is the place of a polyline nearest to c.
func nearestOn(path []spot, c spot) (spot, float64) {
	best, where := math.Inf(1), c
	for i := 0; i+1 < len(path); i++ {
		a, b := path[i], path[i+1]
		l := (b.X-a.X)*(b.X-a.X) + (b.Y-a.Y)*(b.Y-a.Y)
		t := 0.0
		if l > 0 {
			t = math.Max(0, math.Min(1, ((c.X-a.X)*(b.X-a.X)+(c.Y-a.Y)*(b.Y-a.Y))/l))
		}
		q := spot{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)}
		if d := q.Distance(c); d < best {
			best, where = d, q
		}
	}
	return where, best
}

// dimensions prints the noted clearances between the bases.
func (d *drawing) dimensions() {
	for _, m := range d.tight {
		c, ok := m.clearance()
		if !ok {
			continue
		}
		i := draw.Ink{Width: 0.3, Signal: c.Tight()}
		u := spot{X: (c.To.X - c.From.X) / c.Free, Y: (c.To.Y - c.From.Y) / c.Free}
		tick := spot{X: -u.Y, Y: u.X}.Scale(0.9e-3)
		for _, e := range [2]spot{c.From, c.To} {
			d.stretch(e.Add(tick), e.Add(tick.Scale(-1)), i)
		}
		d.stretch(c.From, c.To, i)
		half := c.From.Add(u.Scale(c.Free / 2))
		d.write(half, 0.8-1.6*u.Y, 1+1.6*u.X, draw.Word{Text: fmt.Sprintf("%.1f", c.Free*1e3), Size: 2.8, Signal: i.Signal, Halo: true})
	}
}

// notes lists the steps beside the board.
func (d *drawing) notes() {
	at := draw.Word{X: d.W - noteWidth + 2, Y: 10, Size: 3.6}
	line := func(isSignal, isBold bool, words string) {
		at.Text, at.Signal, at.Bold = words, isSignal, isBold
		for _, at.Text = range at.Wrapped(noteWidth - 2 - margin) {
			d.Write(at)
			at.Y += noteLine
		}
	}
	line(false, true, fmt.Sprintf("%s, %.1f s", unit.Count(len(d.Plan.Steps), "step"), float64(d.Plan.Time)))
	line(false, false, "clearances between bases in mm")
	at.Y += noteLine / 2
	for said, n := range d.listed() {
		if at.Y > d.H-noteLine {
			line(false, false, fmt.Sprintf("… and %d more", len(d.Plan.Steps)-said))
			break
		}
		line(d.Plan.Steps[n].Do == plan.Ask, false, fmt.Sprintf("%d  %s", n+1, d.sentence(n)))
	}
	if d.Plan.Doubt != "" {
		line(true, false, "doubt: "+d.Plan.Doubt)
	}
}

// listed are the steps as they are listed: what is asked of a person first, since a list
// that is longer than the sheet is cut.
func (d *drawing) listed() (order []int) {
	for _, asks := range []bool{true, false} {
		for n, s := range d.Plan.Steps {
			if (s.Do == plan.Ask) == asks {
				order = append(order, n)
			}
		}
	}
	return order
}

// sentence is step n in words.
func (d *drawing) sentence(n int) string {
	s := d.Plan.Steps[n]
	switch s.Do {
	case plan.Travel:
		return fmt.Sprintf("travel %.0f mm, %.1f s", lengthOf(s.Path)*1e3, float64(s.Time))
	case plan.Grip, plan.Release:
		return fmt.Sprintf("%s %s, %.1f s", s.Do, d.Rig.Pieces.Kinds().NameOf(s.Piece), float64(s.Time))
	case plan.Carry:
		from, to := d.Plan.Ends(n, d.Rig.Beside)
		words := fmt.Sprintf("carry %s %s–%s, %.0f mm, %.1f s", d.Rig.Pieces.Kinds().NameOf(s.Piece), from, to, lengthOf(s.PiecePath)*1e3, float64(s.Time))
		if s.Text != "" {
			words += ", " + s.Text
		}
		return words
	}
	return s.Text
}

// lengthOf is the length of a polyline, metres.
func lengthOf(path []spot) float64 {
	l := 0.0
	for i := 1; i < len(path); i++ {
		l += path[i-1].Distance(path[i])
	}
	return l
}
