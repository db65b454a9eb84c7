// SPDX-License-Identifier: Apache-2.0

// Package whatif sets two judgements side by side, and one rig at many values of
// a key.
package whatif

import (
	"cmp"
	"math"
	"slices"

	"boardhand/internal/assess"
	"boardhand/internal/assess/line"
	"boardhand/internal/rig"
)

// Comparison is what differs between two rigs and their judgements, A to B.
type Comparison struct {
	A     assess.Report `json:"-"`
	B     assess.Report `json:"-"`
	Names [2]string     `json:"rigs"`
	Worst [2]string     `json:"verdicts"`
	Keys  []Key         `json:"keys"`  // with other values, in the order of the rig file
	Lines []Line        `json:"lines"` // that differ: other verdicts first, then by how much nearer to their limit they are
	Same  int           `json:"same"`  // lines that do not
}

// Key is one key of the rig file with its two values; "" is not given.
type Key struct {
	Key string `json:"key"`
	A   string `json:"a"`
	B   string `json:"b"`
}

// Line is one check of both rigs; nil in one that does not have it.
type Line struct {
	ID string        `json:"id"`
	A  *assess.Check `json:"a"`
	B  *assess.Check `json:"b"`
}

// Compare judges two rigs.
func Compare(a, b *rig.Rig) Comparison { return After(assess.ReportOn(a), a, b) }

// After judges a rig and sets it beside one whose report is known.
func After(was assess.Report, a, b *rig.Rig) Comparison {
	c := Comparison{A: was, B: assess.ReportOn(b), Names: [2]string{a.Name(), b.Name()}, Keys: keys(a, b)}
	c.Worst = [2]string{string(c.A.Verdict), string(c.B.Verdict)}
	for _, l := range pairs(c.A.Checks, c.B.Checks) {
		if l.differs() {
			c.Lines = append(c.Lines, l)
		} else {
			c.Same++
		}
	}
	slices.SortStableFunc(c.Lines, func(x, y Line) int {
		return cmp.Or(cmp.Compare(y.turn(), x.turn()), cmp.Compare(y.shift(), x.shift()))
	})
	return c
}

// keys are the values that differ, the first rig's order before what only the
// second one has.
func keys(a, b *rig.Rig) (out []Key) {
	first, second := a.Settings(), b.Settings()
	at := map[string]int{}
	for i, s := range first {
		at[s.Key] = i
	}
	others := map[string]string{}
	for _, s := range second {
		others[s.Key] = s.Value
	}
	for _, s := range first {
		if v := others[s.Key]; v != s.Value {
			out = append(out, Key{s.Key, s.Value, v})
		}
	}
	for _, s := range second {
		if _, ok := at[s.Key]; !ok {
			out = append(out, Key{s.Key, "", s.Value})
		}
	}
	return out
}

// pairs puts the lines of the same check together.
func pairs(a, b []assess.Check) (out []Line) {
	rest := map[string]*assess.Check{}
	for i := range b {
		rest[b[i].ID] = &b[i]
	}
	for i := range a {
		out = append(out, Line{a[i].ID, &a[i], rest[a[i].ID]})
		delete(rest, a[i].ID)
	}
	for i := range b {
		if _, ok := rest[b[i].ID]; ok {
			out = append(out, Line{b[i].ID, nil, &b[i]})
		}
	}
	return out
}

// differs says whether a line reads otherwise.
func (l Line) differs() bool {
	if l.A == nil || l.B == nil {
		return true
	}
	return l.A.Verdict != l.B.Verdict || l.A.Accepted != l.B.Accepted || line.Figure(l.A.Value) != line.Figure(l.B.Value) ||
		line.Figure(l.A.Missed()) != line.Figure(l.B.Missed())
}

// turn ranks other verdicts: 2 where one fails, 1 where one warns.
func (l Line) turn() int {
	if l.A == nil || l.B == nil {
		return 1
	}
	x, y := l.A.Counts(), l.B.Counts()
	switch {
	case x == y:
		return 0
	case x == assess.Fail || y == assess.Fail:
		return 2
	}
	return 1
}

// shift is by how much of its limit the margin moved.
func (l Line) shift() float64 {
	if l.A == nil || l.B == nil {
		return 0
	}
	return math.Abs(l.A.Share - l.B.Share)
}
