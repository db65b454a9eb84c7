// SPDX-License-Identifier: Apache-2.0

package diagnosis

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// logChance is the logarithm of the chance of one symptom when some causes are
// at work. Of a carry: each acts with its share, and one that acts decides the
// ending. Of events: they come at the sum of all rates.
func logChance(null term, at []term) float64 {
	free, shares, ending, exposure, event := 1.0, 0.0, 0.0, null.exposure, null.event
	for _, t := range at {
		free *= 1 - t.share
		shares += t.share
		ending += t.share * t.ending
		exposure += t.exposure
		event += t.event
	}
	sum := -exposure
	if null.ending > 0 {
		p := null.ending
		if shares > 0 {
			p = free*null.ending + (1-free)*ending/shares
		}
		sum += math.Log(math.Max(p, 1e-12))
	}
	if null.event > 0 {
		sum += math.Log(event)
	}
	return sum
}

// set is some of the candidates together, by their indices in rising order.
type set struct {
	of    []int
	score float64 // logarithm of prior odds × chance of all symptoms
}

// weighing finds the sets that explain the record.
type weighing struct {
	null     []term
	alone    []float64 // logarithm of the chance of each symptom without any cause
	all      []hypothesis
	arrivals []arrival
	scales   []scale // how far these may scatter
	fits     map[string]fit
}

// sets weighs the empty set, all candidates alone, and what the best of each
// size becomes with one more.
func (w *weighing) sets() []set {
	first := set{score: w.score(nil)}
	out, level, seen := []set{first}, []set{first}, map[string]bool{"[]": true}
	for range mostCauses {
		var next []set
		for _, s := range level {
			for i := range w.all {
				of := slices.Clone(s.of)
				of = append(of, i)
				slices.Sort(of)
				key := fmt.Sprint(of)
				if seen[key] || w.excluded(s.of, i) {
					continue
				}
				seen[key] = true
				next = append(next, set{of, w.score(of)})
			}
		}
		slices.SortStableFunc(next, func(a, b set) int { return cmp.Compare(b.score, a.score) })
		out = append(out, next...)
		level = next[:min(beam, len(next))]
	}
	return out
}

// excluded says whether a candidate cannot join a set: another variant of it is in.
func (w *weighing) excluded(of []int, i int) bool {
	return slices.ContainsFunc(of, func(j int) bool { return i == j || w.all[i].isSame(w.all[j]) })
}

// score is the logarithm of prior odds times the chance of everything seen.
func (w *weighing) score(of []int) float64 {
	sum := 0.0
	var geometry []hypothesis
	for _, i := range of {
		sum += w.all[i].prior
		if w.all[i].isFitted() {
			geometry = append(geometry, w.all[i])
		}
	}
	at := make([]term, 0, len(of))
	for t, null := range w.null {
		at = at[:0]
		for _, i := range of {
			if h := &w.all[i]; t >= h.from && t < h.until && h.terms[t] != (term{}) {
				at = append(at, h.terms[t])
			}
		}
		if len(at) == 0 {
			sum += w.alone[t]
		} else {
			sum += logChance(null, at)
		}
	}
	return sum + w.fit(geometry).evidence
}

// fit is the answer over all scales: the chance of the arrivals is the mean of their chances,
// and the coefficients are those of the likeliest one.
func (w *weighing) fit(geometry []hypothesis) fit {
	key := keyOf(geometry)
	if f, ok := w.fits[key]; ok {
		return f
	}
	best, sum := fit{evidence: math.Inf(-1)}, 0.0
	for _, s := range w.scales {
		if f := s.fit(geometry); f.evidence > best.evidence {
			best = f
		}
	}
	for _, s := range w.scales {
		sum += math.Exp(s.fit(geometry).evidence - best.evidence)
	}
	best.evidence += math.Log(sum / float64(len(scatters)))
	w.fits[key] = best
	return best
}

// tells is by how many nats the symptoms alone, without any prior, speak for the best set with
// one of some causes over the best one of no more causes without any of them. Where that
// is little the symptoms do not tell whether it is one of these: the priors do, and what
// is tried next may show otherwise. Causes that have ended leave out what does not fit
// them, and rival nobody.
func (w *weighing) tells(sets []set, is func(hypothesis) bool) float64 {
	alone := func(s set) float64 {
		sum := s.score
		for _, i := range s.of {
			sum -= w.all[i].prior
		}
		return sum
	}
	has := func(s set) bool { return slices.ContainsFunc(s.of, func(i int) bool { return is(w.all[i]) }) }
	isOver := func(s set) bool { return slices.ContainsFunc(s.of, func(i int) bool { return w.all[i].isOver }) }
	with := set{score: math.Inf(-1)}
	for _, s := range sets {
		if has(s) && !isOver(s) && s.score > with.score {
			with = s
		}
	}
	rival := math.Inf(-1)
	for _, s := range sets {
		if len(s.of) <= len(with.of) && !has(s) && !isOver(s) {
			rival = math.Max(rival, alone(s))
		}
	}
	return alone(with) - rival
}

// beliefIn is the posterior probability that one of some causes is there.
func (w *weighing) beliefIn(sets []set, is func(hypothesis) bool) float64 {
	best := slices.MaxFunc(sets, func(a, b set) int { return cmp.Compare(a.score, b.score) })
	with, total := 0.0, 0.0
	for _, s := range sets {
		p := math.Exp(s.score - best.score)
		if total += p; slices.ContainsFunc(s.of, func(i int) bool { return is(w.all[i]) && !w.all[i].isOver }) {
			with += p
		}
	}
	return with / total
}

// belief gives each candidate its posterior probability, and the best set.
func (w *weighing) belief(sets []set) (each []float64, best set) {
	best = slices.MaxFunc(sets, func(a, b set) int { return cmp.Compare(a.score, b.score) })
	each, total := make([]float64, len(w.all)), 0.0
	for _, s := range sets {
		p := math.Exp(s.score - best.score)
		total += p
		for _, i := range s.of {
			each[i] += p
		}
	}
	for i := range each {
		each[i] /= total
	}
	return each, best
}
