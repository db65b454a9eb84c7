// SPDX-License-Identifier: Apache-2.0

package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"boardhand/internal/carry/plan"
	"boardhand/internal/game"
	"boardhand/internal/unit"
)

// step draws one step in the scene before it.
func (d *drawing) step(now plan.Scene, n int) {
	s := d.Plan.Steps[n]
	switch s.Do {
	case plan.Travel:
		d.line(s.Path, soft, 0.25, "0.6 1.4")
	case plan.Carry:
		d.line(s.PiecePath, paper, 1, "none") // shows the way where it leaves a filled ring
		d.line(s.Path, ink, 0.25, "0.8 0.8")
		d.line(s.PiecePath, ink, 0.45, "3 1.2")
		d.arrow(s.PiecePath)
		d.arrival(now, s)
		d.measure(now, s)
	case plan.Ask:
		d.point(now, s)
	}
}

func (d *drawing) line(path []spot, colour string, width float64, dash string) {
	var b strings.Builder
	for i, p := range path {
		fmt.Fprintf(&b, "%c%.2f %.2f", "ML"[min(i, 1)], x(p), y(p))
	}
	d.printf(`<path d="%s" stroke="%s" stroke-width="%.2f" stroke-dasharray="%s"/>`+"\n", b.String(), colour, width, dash)
}

// arrow puts a slim head in the middle of a way.
func (d *drawing) arrow(path []spot) {
	left := lengthOf(path) / 2
	for i := 1; i < len(path); i++ {
		l := path[i-1].Distance(path[i])
		if left > l || l == 0 {
			left -= l
			continue
		}
		f := left / l
		at := spot{X: path[i-1].X + f*(path[i].X-path[i-1].X), Y: path[i-1].Y + f*(path[i].Y-path[i-1].Y)}
		turn := math.Atan2(y(path[i])-y(path[i-1]), x(path[i])-x(path[i-1])) * 180 / math.Pi
		d.printf(`<path d="M-1.5 -1.1L1.5 0L-1.5 1.1" transform="translate(%.2f %.2f) rotate(%.1f)" stroke-width="0.4"/>`+"\n", x(at), y(at), turn)
		return
	}
}

// arrival is a dashed ring where the carried piece will stand.
func (d *drawing) arrival(now plan.Scene, s plan.Step) {
	if held := now.Held(s); held >= 0 {
		end := s.PiecePath[len(s.PiecePath)-1]
		d.printf(`<circle cx="%.2f" cy="%.2f" r="%.2f" stroke-dasharray="1 0.8"/>`+"\n", x(end), y(end), now.Pieces[held].Base*500)
	}
}

// point rings the squares a person is asked about.
func (d *drawing) point(now plan.Scene, s plan.Step) {
	ringed := map[game.Square]bool{game.NoSquare: true}
	for _, one := range s.Single() {
		for _, sq := range []game.Square{one.From, one.To} {
			if !ringed[sq] {
				c := d.centre(sq)
				d.printf(`<circle cx="%.2f" cy="%.2f" r="%.2f" stroke="%s" stroke-width="0.7"/>`+"\n", x(c), y(c), askedRing*d.side*1e3, signal)
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
		all = append(all, measure{where, m.At, m.Base, now.Pieces[held].Base / 2, dist - bases, d.Keep(now.Pieces[held], m) - bases})
	}
	slices.SortFunc(all, func(a, b measure) int { return int(math.Copysign(1, a.gap-b.gap)) })
	for _, m := range all[:min(len(all), mostMeasures)] {
		if m.gap < widestGap*d.side {
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
		colour := ink
		if m.gap < m.need+closeShave {
			colour = signal
		}
		l := m.at.Distance(m.piece)
		if l == 0 || m.gap <= 0 {
			continue
		}
		ux, uy := (m.piece.X-m.at.X)/l, (m.piece.Y-m.at.Y)/l
		a := spot{X: m.at.X + ux*m.half, Y: m.at.Y + uy*m.half}
		b := spot{X: a.X + ux*m.gap, Y: a.Y + uy*m.gap}
		tick := 0.9e-3
		for _, e := range [2]spot{a, b} {
			d.printf(`<path d="M%.2f %.2fL%.2f %.2f" stroke="%s" stroke-width="0.3"/>`+"\n",
				x(e)-uy*tick*1e3, y(e)-ux*tick*1e3, x(e)+uy*tick*1e3, y(e)+ux*tick*1e3, colour)
		}
		d.printf(`<path d="M%.2f %.2fL%.2f %.2f" stroke="%s" stroke-width="0.3"/>`+"\n", x(a), y(a), x(b), y(b), colour)
		mx, my := (x(a)+x(b))/2+1.6*uy+0.8, (y(a)+y(b))/2+1.6*ux+1
		words := fmt.Sprintf("%.1f", m.gap*1e3)
		d.printf(`<text x="%.2f" y="%.2f" font-size="2.8" fill="%s" stroke="%s" stroke-width="0.9" paint-order="stroke">%s</text>`+"\n", mx, my, colour, paper, words)
	}
}

// notes lists the steps beside the board.
func (d *drawing) notes() {
	nx, ny := d.left+d.wide-noteWidth+2, d.top+10
	line := func(colour, words string) {
		for _, part := range fold(words, noteLetter) {
			d.text(nx, ny, 3.6, colour, "start", part)
			ny += noteLine
		}
	}
	line(ink, fmt.Sprintf("%s, %.1f s", unit.Count(len(d.Plan.Steps), "step"), float64(d.Plan.Time)))
	line(soft, "clearances between bases in mm")
	ny += noteLine / 2
	for said, n := range d.listed() {
		if ny > d.top+d.high-noteLine {
			line(soft, fmt.Sprintf("… and %d more", len(d.Plan.Steps)-said))
			break
		}
		colour := ink
		if d.Plan.Steps[n].Do == plan.Ask {
			colour = signal
		}
		line(colour, fmt.Sprintf("%d  %s", n+1, d.sentence(n)))
	}
	if d.Plan.Doubt != "" {
		line(signal, "doubt: "+d.Plan.Doubt)
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

// fold breaks words into lines of at most n letters.
func fold(words string, n int) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(words) {
		if line != "" && len(line)+1+len(w) > n {
			out, line = append(out, line), ""
		}
		if line != "" {
			line += " "
		}
		line += w
	}
	return append(out, line)
}

// lengthOf is the length of a polyline, metres.
func lengthOf(path []spot) float64 {
	l := 0.0
	for i := 1; i < len(path); i++ {
		l += path[i-1].Distance(path[i])
	}
	return l
}
