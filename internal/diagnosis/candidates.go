// SPDX-License-Identifier: Apache-2.0

package diagnosis

import (
	"math"
	"slices"
)

// candidates lists the hypotheses that the symptoms of a record speak for at
// all, each with the stretches in which it may hold.
func (c *Case) candidates(w *weighing) (out []hypothesis) {
	null := w.null
	for _, h := range c.imagined() {
		if h.isGeometry() {
			if h.cause == MagnetOffCentre && w.spares(h) {
				continue
			}
			h.until, h.terms = len(c.symptoms), c.termsOf(h)
			h.prior = logOdds(prior[h.cause]) - math.Log(float64(variantsOf(h.cause)))
			out = append(out, h)
			continue
		}
		h.terms = c.termsOf(h)
		gain := make([]float64, len(c.symptoms))
		for i, t := range h.terms {
			gain[i] = logChance(null[i], []term{t}) - w.alone[i]
		}
		out = append(out, c.stretches(h, gain)...)
	}
	return out
}

// spares says whether a piece stands where the others do, once the machine's
// place on the board may be anything: its magnet explains nothing then.
func (w *weighing) spares(h hypothesis) bool {
	with := append(slices.Clone(anyPlace), h)
	return w.fit(with).evidence-w.fit(anyPlace).evidence < leastGain
}

func (c *Case) termsOf(h hypothesis) []term {
	out := make([]term, len(c.symptoms))
	for i, s := range c.symptoms {
		out[i] = h.termOf(s, c.physics)
	}
	return out
}

// variantsOf counts the variants of a cause.
func variantsOf(c Cause) int {
	switch c {
	case DriveMagnetWeak:
		return len(strengths)
	case LiftStaysUp, LiftStaysDown:
		return 2 * len(jams) // each with a lift that tells of it, and with one that cannot
	case StickyBoard:
		return len(catches)
	case CameraDropping, ControllerWire:
		return len(drops)
	case AxesOutOfSquare, AxesScaleWrong:
		return 2
	case MagnetOffCentre:
		return offWays
	case BaseTooWide:
		return 2 * len(touches) // each with and without leaning
	}
	return 1
}

// imagined lists what can be thought of, given who failed and where.
func (c *Case) imagined() (out []hypothesis) {
	add := func(h hypothesis) {
		for h.variant = range variantsOf(h.cause) {
			out = append(out, h)
		}
	}
	for _, cause := range []Cause{DriveMagnetWeak, BaseTooWide, LiftStaysUp, LiftStaysDown, StickyBoard, CameraFrozen, CameraDropping, ControllerWire} {
		add(hypothesis{cause: cause})
	}
	add(hypothesis{cause: AxisOverdriven, axis: "x"})
	add(hypothesis{cause: AxisOverdriven, axis: "y"})
	if len(c.arrivals()) >= fewestArrivals {
		add(hypothesis{cause: AxesOutOfSquare, place: c.physics.origin})
		add(hypothesis{cause: AxesScaleWrong, axis: "x", place: c.physics.origin})
		add(hypothesis{cause: AxesScaleWrong, axis: "y", place: c.physics.origin})
		add(hypothesis{cause: PlaceShifted})
	}
	for _, p := range c.pieces() {
		if p.failed > 0 {
			add(hypothesis{cause: MagnetFlipped, piece: p.piece})
			add(hypothesis{cause: MagnetMissing, piece: p.piece})
		}
		if p.arrived >= 2 && len(c.arrivals()) >= fewestArrivals {
			add(hypothesis{cause: MagnetOffCentre, piece: p.piece})
		}
		if p.pushed > 0 {
			add(hypothesis{cause: BaseTooWide, piece: p.piece})
		}
	}
	for _, at := range c.stuckAt() {
		add(hypothesis{cause: StickyPlace, place: at})
	}
	return out
}

// fate counts what happened to one piece.
type fate struct {
	piece                   Piece
	failed, arrived, pushed int
}

// pieces lists the pieces of the record in the order of their first symptom.
func (c *Case) pieces() (out []fate) {
	index := map[Piece]int{}
	of := func(p Piece) *fate {
		i, ok := index[p]
		if !ok {
			i = len(out)
			index[p] = i
			out = append(out, fate{piece: p})
		}
		return &out[i]
	}
	for _, s := range c.symptoms {
		switch {
		case s.accuses():
			of(s.Piece).failed++
		case s.isTaken:
		case s.judgesCarry():
			of(s.Piece).arrived++
		case s.Outcome == Pushed:
			of(s.Piece).pushed++
			for _, one := range s.apart() {
				if one.Act == Carry && one.Carrier != (Piece{}) {
					of(one.Carrier).pushed++
				}
			}
		}
	}
	return out
}

// stuckAt lists the places at which pieces were left, near ones once.
func (c *Case) stuckAt() (out []Spot) {
	for _, s := range slices.Backward(c.symptoms) {
		at := s.Found
		if s.Outcome == Stayed {
			at = s.From
		}
		if !s.accuses() || s.Outcome == Toppled || s.Outcome == Unseen || len(out) == mostPlaces {
			continue
		}
		if !slices.ContainsFunc(out, func(p Spot) bool { return p.Distance(at) < stickyRadius/2 }) {
			out = append(out, at)
		}
	}
	return out
}

// stretches gives a hypothesis that is there from the first symptom, one that
// begins where the symptoms say, and one that is over again.
func (c *Case) stretches(h hypothesis, gain []float64) (out []hypothesis) {
	n := len(gain)
	base := logOdds(prior[h.cause]) - math.Log(float64(variantsOf(h.cause)))
	if h.cause == StickyPlace { // the prior is that of the whole board
		tile := c.physics.field / (2 * stickyRadius)
		base -= math.Log(tile * tile)
	}
	add := func(from, until int, share float64) {
		sum := 0.0
		for _, g := range gain[from:until] {
			sum += g
		}
		if sum > leastGain {
			h.from, h.until, h.prior, h.isOver = from, until, base+math.Log(share), until < n
			out = append(out, h)
		}
	}
	there := builtIn[h.cause] * (1 - ended)
	add(0, n, there)
	if k := bestSuffix(gain); k > 0 {
		add(k, n, (1-builtIn[h.cause])*(1-ended)/float64(n))
	}
	if a, b := bestStretch(gain); b < n {
		add(a, b, ended/float64(n)/float64(n))
	}
	return out
}

// bestSuffix is where the suffix with the largest sum begins.
func bestSuffix(gain []float64) int {
	best, at, sum := math.Inf(-1), 0, 0.0
	for i := len(gain) - 1; i >= 0; i-- {
		if sum += gain[i]; sum > best {
			best, at = sum, i
		}
	}
	return at
}

// bestStretch is the stretch a … b−1 with the largest sum.
func bestStretch(gain []float64) (a, b int) {
	best, sum, from := math.Inf(-1), 0.0, 0
	for i, g := range gain {
		if sum <= 0 {
			sum, from = 0, i
		}
		if sum += g; sum > best {
			best, a, b = sum, from, i+1
		}
	}
	return a, b
}
