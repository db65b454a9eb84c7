// SPDX-License-Identifier: Apache-2.0

// Package remedy looks for what to change of a rig so that a line of its judgement passes:
// one thing turned on until nothing else fails, or two together where no single one helps.
// It knows no formula: every change is tried by judging the changed rig.
package remedy

import (
	"cmp"
	"slices"

	"boardhand/internal/assess/knob"
	"boardhand/internal/assess/line"
	"boardhand/internal/rig"
)

// Study is a changed rig that is judged line by line or whole.
type Study interface {
	Line(i int) line.Check
	All() []line.Check
}

// Bench is a rig with its judgement and what may be turned.
type Bench struct {
	Rig   *rig.Rig
	Was   []line.Check
	Knobs func(i int) []string // that may mend a line, best first; a leading + or - says which way
	Begin func(*rig.Rig) Study
	// Price is what a changed rig costs more to make of the parts at hand, or to be bought;
	// false where no price is known. Nil when nothing is known of any part.
	Price func(was, now *rig.Rig) (float64, bool)
}

// change is a rig with knobs turned.
type change struct {
	rig    *rig.Rig
	knobs  []knob.Knob
	fix    line.Fix
	breaks []int // lines that fail by it
}

// Mend looks for changes that turn line i to pass. Those after which nothing else newly
// fails come first, and alone where there are any; of these the cheapest, where prices are
// known.
func (b *Bench) Mend(i int) []line.Fix {
	var found []change
	clean := 0
	for _, name := range b.Knobs(i) {
		if clean == mostFixes && b.Price == nil {
			break
		}
		if c, ok := b.single(i, name); ok {
			found = append(found, c)
			clean += isClean(c)
		}
	}
	if clean == 0 {
		for _, c := range b.pairs(i, found) {
			found = append(found, c)
			clean += isClean(c)
		}
	}
	slices.SortStableFunc(found, before)
	if clean > 0 {
		found = found[:clean]
	}
	var out []line.Fix
	for _, c := range found[:min(len(found), mostFixes)] {
		out = append(out, c.fix)
	}
	return out
}

func isClean(c change) int {
	if len(c.breaks) == 0 {
		return 1
	}
	return 0
}

// before orders changes: those that break least, then the cheapest; one without a price
// comes after all that have one.
func before(a, b change) int {
	if d := cmp.Compare(len(a.breaks), len(b.breaks)); d != 0 {
		return d
	}
	switch p, q := a.fix.Price, b.fix.Price; {
	case p == nil && q == nil:
		return 0
	case p == nil:
		return 1
	case q == nil:
		return -1
	default:
		return cmp.Compare(*p, *q)
	}
}

// turn is a knob by its name with a sign, and which way it goes.
func turn(name string) (knob.Knob, int, bool) {
	k, ok := knob.Named(name[1:])
	if name[0] == '-' {
		return k, -1, ok
	}
	return k, 1, ok
}

// single turns one knob by the fewest steps that make line i pass; and on, where another
// line fails there, to the first step at which none does.
func (b *Bench) single(i int, name string) (change, bool) {
	k, sign, ok := turn(name)
	if !ok {
		return change{}, false
	}
	n, ok := fewest(func(n int) (bool, bool) {
		r, in := k.Turn(b.Rig, sign*n)
		return in && b.Begin(r).Line(i).Verdict == line.Pass, in
	})
	if !ok {
		return change{}, false
	}
	first, _ := b.at(i, n*sign, k)
	if len(first.breaks) == 0 {
		return first, true
	}
	is := func(n int) (bool, bool) {
		c, ok := b.at(i, n*sign, k)
		return ok && len(c.breaks) == 0, ok
	}
	for step, tries := 1, 0; tries < mostOnward; step, tries = step*2, tries+1 {
		clean, in := is(n + step)
		if !in {
			break
		}
		if clean {
			out, _ := b.at(i, halve(n+step/2, n+step, is)*sign, k)
			return out, true
		}
	}
	return first, true
}

// at is one knob turned, the whole rig judged; false where line i does not pass there.
func (b *Bench) at(i, n int, k knob.Knob) (change, bool) {
	r, in := k.Turn(b.Rig, n)
	if !in {
		return change{}, false
	}
	return b.judged(i, r, k)
}

// judged is a changed rig with what the change does, good and bad.
func (b *Bench) judged(i int, r *rig.Rig, knobs ...knob.Knob) (change, bool) {
	now := b.Begin(r).All()
	c := change{rig: r, knobs: knobs}
	for j := range now {
		if now[j].Verdict == line.Fail && b.Was[j].Verdict != line.Fail {
			c.breaks = append(c.breaks, j)
			c.fix.Breaks = append(c.fix.Breaks, now[j].ID)
		}
	}
	for _, k := range knobs {
		c.fix.Set = append(c.fix.Set, changed(k, b.Rig, r)...)
	}
	c.fix.Effect = effect(b.Was[i], now[i])
	c.fix.Costs = costs(i, b.Was, now)
	if b.Price != nil {
		if p, ok := b.Price(b.Rig, r); ok {
			c.fix.Price = &p
		}
	}
	return c, now[i].Verdict == line.Pass
}

// pairs are two knobs turned together. Where single ones mend line i and break another,
// the second knob is one that mends what was broken; where none mends it, one goes on from
// where another one was left.
func (b *Bench) pairs(i int, singles []change) (out []change) {
	tries := 0
	second := func(from *rig.Rig, name string, lines []int, first knob.Knob) bool {
		k, sign, ok := turn(name)
		if !ok || k.Name == first.Name || tries == mostPairs {
			return false
		}
		tries++
		n, ok := fewest(func(n int) (bool, bool) {
			r, in := k.Turn(from, sign*n)
			return in && b.holds(r, i, lines), in
		})
		if !ok {
			return false
		}
		r, _ := k.Turn(from, sign*n)
		c, ok := b.judged(i, r, first, k)
		if ok = ok && len(c.breaks) == 0; ok {
			out = append(out, c)
		}
		return ok
	}
	for _, c := range singles {
		for _, name := range b.Knobs(c.breaks[0]) {
			if second(c.rig, name, c.breaks, c.knobs[0]) {
				break
			}
		}
	}
	if len(singles) == 0 {
		b.apart(i, second)
	}
	return out
}

// apart leaves each of a line's knobs at a few places and turns the others from there.
func (b *Bench) apart(i int, second func(*rig.Rig, string, []int, knob.Knob) bool) {
	names := b.Knobs(i)
	for n := 1; n <= farthest; n *= 2 {
		for j, name := range names {
			k, sign, ok := turn(name)
			if !ok {
				continue
			}
			r, in := k.Turn(b.Rig, sign*n)
			if !in {
				continue
			}
			for _, other := range names[j+1:] {
				if second(r, other, nil, k) {
					return
				}
			}
		}
	}
}

// holds says whether line i passes and none of the others fails.
func (b *Bench) holds(r *rig.Rig, i int, others []int) bool {
	s := b.Begin(r)
	if s.Line(i).Verdict != line.Pass {
		return false
	}
	for _, j := range others {
		if s.Line(j).Verdict == line.Fail {
			return false
		}
	}
	return true
}

// changed lists the settings that differ.
func changed(k knob.Knob, was, now *rig.Rig) (out []line.Setting) {
	before, after := k.Settings(was), k.Settings(now)
	for i := range after {
		if after[i] != before[i] {
			out = append(out, after[i])
		}
	}
	return out
}
