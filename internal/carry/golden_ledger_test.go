// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"fmt"
	"math"
	"strings"

	planning "boardhand/internal/carry/plan"
	"boardhand/internal/lanes"
)

// ledger writes plans down as text, and what they come to.
type ledger struct {
	p                     *Planner
	text                  strings.Builder
	plans, asides, asks   int
	doubts                int
	carries, travels      int
	seconds               float64
	carried, path, beside float64 // metres: carries, travels, the straight lines of the carries
	base, magnet          nearest
}

func newLedger(p *Planner) *ledger {
	return &ledger{p: p, base: none(), magnet: none()}
}

func (l *ledger) printf(format string, a ...any) { fmt.Fprintf(&l.text, format, a...) }

// limits notes what the rig's magnets and drives allow.
func (l *ledger) limits() {
	n := l.p.limits
	l.printf("limits\n")
	l.printf("  lag %.3f ± %.3f mm, lead %.3f mm, back %v\n", n.Lag*1e3, n.LagSpread*1e3, n.Lead*1e3, n.Back)
	l.printf("  raised magnet passes at %.2f + %.2f mm, lowered at %.2f mm, two magnets apart %.2f mm, placement %.2f mm\n",
		n.SafePass*1e3, n.SafeSpread*1e3, n.LoweredPass*1e3, n.Apart*1e3, n.Placement*1e3)
	l.printf("  carry %s\n  travel %s\n  lift %.3f s\n", paces(n.Carry), paces(n.Travel), n.LiftTime)
	l.printf("  carriage reaches %s, pieces may stand in %s\n", rectangle(n.Inside), rectangle(n.Sheet))
}

func paces(d planning.Drive) string {
	one := func(p planning.Bounds) string {
		return fmt.Sprintf("%.2f mm/s %.1f mm/s² %.3f m/s³", p.Speed*1e3, p.Accel*1e3, p.Jerk)
	}
	return fmt.Sprintf("%s; axis x %s; axis y %s", one(d.Most), one(d.Axes[0]), one(d.Axes[1]))
}

func rectangle(r lanes.Rect) string {
	return fmt.Sprintf("%.2f…%.2f × %.2f…%.2f mm", r.Min.X*1e3, r.Max.X*1e3, r.Min.Y*1e3, r.Max.Y*1e3)
}

// nearest is the obstacle with the least room to spare.
type nearest struct {
	free, need float64 // metres
	who        string
}

func none() nearest { return nearest{free: math.Inf(1)} }

// sameRoom is how little, metres, the room of two obstacles may differ for the
// first of them to be named: rounding decides nothing.
const sameRoom = 1e-8

func (n *nearest) take(o nearest) {
	if math.IsInf(n.free, 1) || o.free-o.need < n.free-n.need-sameRoom {
		*n = o
	}
}

func (n nearest) String() string {
	if math.IsInf(n.free, 1) {
		return "none"
	}
	return fmt.Sprintf("%.2f mm (needs %.2f) from %s", n.free*1e3, n.need*1e3, n.who)
}

// note writes a plan down, a line a stroke, and counts it.
func (l *ledger) note(title string, s Scene, plan Plan) {
	l.printf("\n%s\n", title)
	base, magnet, lift := none(), none(), 0.0
	for n, step := range plan.Steps {
		switch step.Do {
		case Grip, Release:
			lift += float64(step.Time)
		case Travel:
			l.travel(n+1, s, step)
		case Carry:
			b, m := l.carry(n+1, s, step)
			base.take(b)
			magnet.take(m)
		case Ask:
			l.printf("  %d ask: %s\n", n+1, asked(step))
		}
		s = l.p.afterStep(s, step)
	}
	l.printf("  = %.3f s, lift %.3f s, %d step-asides, %d questions; tightest base %v; tightest magnet %v\n",
		float64(plan.Time), lift, plan.Asides, plan.Asks(), base, magnet)
	l.plans, l.asides, l.asks, l.seconds = l.plans+1, l.asides+plan.Asides, l.asks+plan.Asks(), l.seconds+float64(plan.Time)
	l.base.take(base)
	l.magnet.take(magnet)
	if plan.Doubt != "" {
		l.doubts++
		l.printf("  doubt: %s\n", plan.Doubt)
	}
}

// travel writes a way of the lowered magnet down. Pieces that it comes from or
// goes to are no obstacles, nor is anybody where the magnet is lowered enough.
func (l *ledger) travel(n int, s Scene, step Step) {
	driven, low, need := places(step.Trajectory()), none(), l.p.limits.LoweredPass
	for _, m := range s.Pieces {
		ends := min(step.Path[0].Distance(m.At), step.Path[len(step.Path)-1].Distance(m.At))
		if m.Magnet && need > 0 && ends > need {
			_, d := nearestOn(driven, m.At)
			low.take(nearest{d, need, named(m)})
		}
	}
	long := lengthOf(step.Path)
	l.printf("  %d travel %.2f mm in %.3f s; lowered magnet %v; reach %.2f mm\n", n, long*1e3, float64(step.Time), low, room(l.p.limits.Inside, driven)*1e3)
	l.travels, l.path = l.travels+1, l.path+long
}

// carry writes a carry down and returns the tightest places of the base and of
// the magnet.
func (l *ledger) carry(n int, s Scene, step Step) (base, magnet nearest) {
	base, magnet = none(), none()
	driven, held := places(step.Trajectory()), s.Held(step)
	for k, m := range s.Pieces {
		if k == held {
			continue
		}
		_, d := nearestOn(step.PiecePath, m.At)
		bases := (m.Base + s.Pieces[held].Base) / 2
		base.take(nearest{d - bases, l.p.limits.gap(m), named(m)})
		if m.Magnet {
			_, d := nearestOn(driven, m.At)
			magnet.take(nearest{d, l.p.limits.magnetic(m), named(m)})
		}
	}
	first, last := step.PiecePath[0], step.PiecePath[len(step.PiecePath)-1]
	long, line := lengthOf(step.PiecePath), first.Distance(last)
	words := ""
	if step.Text != "" {
		words = " " + step.Text
	}
	l.printf("  %d carry %c %s-%s%s %.2f mm (straight %.2f, magnet %.2f) in %.3f s at most %.2f mm/s; base %v; magnet %v; rim %.2f mm, reach %.2f mm\n",
		n, step.Piece.Letter(), planning.Place(step.From), planning.Place(step.To), words, long*1e3, line*1e3, lengthOf(step.Path)*1e3, float64(step.Time), float64(step.Speed)*1e3,
		base, magnet, room(l.p.limits.Sheet, step.PiecePath)*1e3, room(l.p.limits.Inside, driven)*1e3)
	l.carries, l.carried, l.beside = l.carries+1, l.carried+long, l.beside+line
	return base, magnet
}

// summary writes down what all plans come to.
func (l *ledger) summary() {
	l.printf("\nsummary\n")
	l.printf("  %d plans, %d carries, %d travels, %d step-asides, %d questions, %d doubts\n", l.plans, l.carries, l.travels, l.asides, l.asks, l.doubts)
	l.printf("  %.2f s; carried %.1f mm, %.1f mm in straight lines; travelled %.1f mm\n", l.seconds, l.carried*1e3, l.beside*1e3, l.path*1e3)
	l.printf("  tightest base %v\n  tightest magnet %v\n", l.base, l.magnet)
}

// asked is what a person does, without the words that ask for it.
func asked(step Step) string {
	var out []string
	for _, one := range step.Single() {
		out = append(out, fmt.Sprintf("%c %s-%s", one.Piece.Letter(), planning.Place(one.From), planning.Place(one.To)))
	}
	return strings.Join(out, ", ")
}

func named(m Piece) string { return fmt.Sprintf("%c %s", m.Piece.Letter(), planning.Place(m.Square)) }

// places are the places of a trajectory.
func places(trajectory []planning.Sample) []lanes.Spot {
	out := make([]lanes.Spot, len(trajectory))
	for i, s := range trajectory {
		out[i] = s.At
	}
	return out
}

// room is how far a path stays inside a rectangle, metres; less than 0 outside.
func room(r lanes.Rect, path []lanes.Spot) float64 {
	least := math.Inf(1)
	for _, q := range path {
		least = min(least, q.X-r.Min.X, r.Max.X-q.X, q.Y-r.Min.Y, r.Max.Y-q.Y)
	}
	return least
}

// nearestOn is the place of a polyline nearest to c, and its distance, metres.
func nearestOn(path []lanes.Spot, c lanes.Spot) (lanes.Spot, float64) {
	best, where := math.Inf(1), c
	for i := 0; i+1 < len(path); i++ {
		u, v := path[i+1].Sub(path[i]), c.Sub(path[i])
		share := 0.0
		if l := u.Dot(u); l > 0 {
			share = math.Max(0, math.Min(1, v.Dot(u)/l))
		}
		if q := path[i].Add(u.Scale(share)); q.Distance(c) < best {
			best, where = q.Distance(c), q
		}
	}
	return where, best
}

// lengthOf is the length of a polyline, metres.
func lengthOf(path []lanes.Spot) float64 {
	l := 0.0
	for i := 1; i < len(path); i++ {
		l += path[i-1].Distance(path[i])
	}
	return l
}
