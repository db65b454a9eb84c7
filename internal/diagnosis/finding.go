// SPDX-License-Identifier: Apache-2.0

package diagnosis

import (
	"cmp"
	"math"
	"slices"
)

// Finding is one cause with how sure it is.
type Finding struct {
	Cause    Cause   `json:"cause"`
	Piece    string  `json:"piece,omitempty"` // ID of the piece concerned; "": none or all
	Axis     string  `json:"axis,omitempty"`  // "x", "y"; "": none or both
	Place    Spot    `json:"place,omitzero"`  // sticky_place: where
	Belief   float64 `json:"belief"`          // posterior probability
	Count    int     `json:"count"`           // symptoms that speak for it
	Value    float64 `json:"value,omitempty"` // out_of_square: rad by which the axes meet wider than 90°; scale_wrong: share too far; off_centre, shifted: m
	Sigma    float64 `json:"sigma,omitempty"` // standard error of Value
	Named    bool    `json:"named"`           // sure enough to be told
	Sentence string  `json:"sentence"`        // for the maker: which part to look at and what to check

	either float64 // belief in it or what looks like it
	tells  float64 // nats by which the symptoms alone speak for either
	itself float64 // and for it alone
}

// Findings lists the causes that are worth a thought, the likeliest first. One
// that is Named may be told to the maker; the others are for those who want to
// see what else it might be.
func (c *Case) Findings() []Finding {
	if !c.isFresh {
		c.found, c.isFresh = c.weigh(), true
	}
	return slices.Clone(c.found)
}

// Named lists the findings that are sure enough to be told.
func (c *Case) Named() []Finding {
	return slices.DeleteFunc(c.Findings(), func(f Finding) bool { return !f.Named })
}

func (c *Case) weigh() (out []Finding) {
	w := weighing{arrivals: c.arrivals(), fits: map[string]fit{}}
	w.scales = scalesOf(w.arrivals)
	for _, s := range c.symptoms {
		w.null = append(w.null, sound(s, c.physics))
		w.alone = append(w.alone, logChance(w.null[len(w.null)-1], nil))
	}
	w.all = c.candidates(&w)
	sets := w.sets()
	belief, best := w.belief(sets)
	done := make([]bool, len(w.all))
	for i, h := range w.all {
		if done[i] || h.isOver {
			continue
		}
		f, top := Finding{Cause: h.cause, Piece: h.piece.ID, Axis: h.axis}, i
		for j, g := range w.all {
			if !done[j] && !g.isOver && isNear(h, g) {
				f.Belief, done[j] = f.Belief+belief[j], true
				if belief[j] > belief[top] {
					top = j
				}
			}
		}
		h = w.all[top]
		w.describe(&f, h, best)
		if f.Belief >= worthTelling && f.Count > 0 {
			isEither := func(g hypothesis) bool { return isNear(h, g) || looksLike[h.cause] == g.cause && h.piece == g.piece }
			f.either, f.tells = w.beliefIn(sets, isEither), w.tells(sets, isEither)
			f.itself = w.tells(sets, func(g hypothesis) bool { return isNear(h, g) })
			f.Sentence = c.sentence(f, h.piece)
			out = append(out, f)
		}
	}
	return named(out)
}

// describe completes a finding by the likeliest hypothesis that says so.
func (w *weighing) describe(f *Finding, h hypothesis, best set) {
	f.Belief = math.Min(f.Belief, 1)
	if h.cause == StickyPlace {
		f.Place = h.place
	}
	f.Count = w.count(h)
	w.measure(f, h, best)
}

// named sorts findings, the surest first, and names those that are sure.
func named(out []Finding) []Finding {
	slices.SortStableFunc(out, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(b.Belief, a.Belief), cmp.Compare(b.Count, a.Count))
	})
	all := slices.Clone(out)
	for i, f := range all {
		if out[i].Named = f.isSure(all[:i]); out[i].Named && (f.Belief < namedBelief || f.itself < leastTold) && (f.Cause == DriveMagnetWeak || f.Cause == LiftStaysDown) {
			out[i].Cause, out[i].Sentence = NothingFollows, wholeSentence[NothingFollows]
		}
	}
	return out
}

// isSure says whether a finding may be told: at once at sureOdds, and from namedAfter
// symptoms on at the odds of namedBelief, since little more is to be learnt by waiting.
// Of two causes that look alike the likelier is told as soon as it is surely one of them:
// its sentence says how to tell them apart. likelier are the findings before it.
func (f Finding) isSure(likelier []Finding) bool {
	isSecond := slices.ContainsFunc(likelier, func(g Finding) bool { return looksLike[f.Cause] == g.Cause && f.Piece == g.Piece })
	switch {
	case f.tells < leastTold:
		return false
	case f.Count < namedAfter:
		return f.Belief >= sureOdds/(1+sureOdds)
	case isSecond:
		return f.Belief >= namedBelief
	}
	return f.either >= namedBelief
}

// looksLike are the causes of which carries alone can hardly tell one from the other, of the
// scale the other axis: pictures see both a little wrong.
var looksLike = map[Cause]Cause{
	DriveMagnetWeak: LiftStaysDown, LiftStaysDown: DriveMagnetWeak,
	MagnetFlipped: MagnetMissing, MagnetMissing: MagnetFlipped,
	AxesScaleWrong: AxesScaleWrong,
}

// isNear says whether two hypotheses are told as one finding.
func isNear(h, g hypothesis) bool {
	if h.cause == StickyPlace && g.cause == StickyPlace {
		return h.place.Distance(g.place) < 2*stickyRadius
	}
	return h.isSame(g)
}

// count is how many symptoms speak for a hypothesis rather than for chance; of
// one about places, how many arrivals it rests on.
func (w *weighing) count(h hypothesis) int {
	n := 0
	if h.isGeometry() {
		for _, a := range w.arrivals {
			if h.cause != MagnetOffCentre || a.piece == h.piece {
				n++
			}
		}
		return n
	}
	for t := h.from; t < h.until; t++ {
		null, own := w.null[t], h.terms[t]
		if own.event > null.event || null.ending > 0 && own.share*own.ending > null.ending {
			n++
		}
	}
	if h.isFitted() && w.fit([]hypothesis{h}).evidence-w.fit(nil).evidence > leastGain {
		n++ // and where pieces arrive
	}
	return n
}

// measure fills in the size of an error of place: as fitted together with what
// else is in the best explanation.
func (w *weighing) measure(f *Finding, h hypothesis, best set) {
	if !h.isGeometry() {
		return
	}
	set := []hypothesis{h}
	for _, i := range best.of {
		if g := w.all[i]; g.isFitted() && !g.isSame(h) {
			set = append(set, g)
		}
	}
	r := w.fit(set)
	switch h.cause {
	case AxesOutOfSquare:
		f.Value, f.Sigma = r.value[shear], r.sigma[shear]
	case AxesScaleWrong:
		k := scaleX
		if h.axis == "y" {
			k = scaleY
		}
		f.Value, f.Sigma = r.value[k], r.sigma[k]
	case PlaceShifted:
		f.Value, f.Sigma = math.Hypot(r.value[shiftX], r.value[shiftY]), math.Max(r.sigma[shiftX], r.sigma[shiftY])
	case MagnetOffCentre:
		w.measureMagnet(f, h, r)
	}
}

func (w *weighing) measureMagnet(f *Finding, h hypothesis, r fit) {
	switch h.variant { // its columns come first
	case offFixed:
		f.Value, f.Sigma = math.Hypot(r.value[coefficients], r.value[coefficients+1]), math.Max(r.sigma[coefficients], r.sigma[coefficients+1])
	case offTrailing:
		f.Value, f.Sigma = math.Abs(r.value[coefficients]), r.sigma[coefficients]
	default:
		sum, n := 0.0, 0.0
		for _, a := range w.arrivals {
			if a.piece == h.piece {
				sum, n = sum+a.off.Dot(a.off), n+1
			}
		}
		f.Value = math.Sqrt(sum / n)
		f.Sigma = f.Value / math.Sqrt(2*n)
	}
}
