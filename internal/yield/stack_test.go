// SPDX-License-Identifier: Apache-2.0

package yield

import (
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/budget"
)

// stackOf is a stack of n parts of the same tolerance, each normal with its ends at three
// standard deviations as the worked examples have it, and how far it may be off.
func stackOf(n int, tolerance, limit float64) (*Model, sway) {
	m := &Model{ids: []string{"stack"}, titles: []string{""}, units: []string{"in"}}
	for k := range n {
		m.budget[k] = budget.Tolerance{Within: 2 * tolerance / 3, Shape: budget.Normal, IsLength: true}
	}
	line := sloped{margin: limit}
	for k := range n {
		line.by[k] = -1
	}
	m.slopes = []sloped{line}
	s := sway{drawn: []float64{limit}}
	for k := range budget.Count {
		for e, sign := range [2]float64{-1, 1} {
			x := build{}
			x.machine[k] = sign * 1.5 * m.budget[k].Within // the ends, at three standard deviations
			s.ends[k][e] = []float64{line.of(&x)}
		}
	}
	return m, s
}

// Linear stacks come out as in two published worked examples. Ten parts of ±0.1 mm: ±1.0 mm
// at worst, ±0.316 mm by root of the sum of squares, 0.27 % beyond that ("RSS tolerance
// analysis", a stored page). Three spacers of ±0.005 in in a stack of ±0.008 in: ±0.015 in
// at worst (trainandhire.com, "Tolerance Stack-up for Operators"); by the table of the
// normal distribution (NIST/SEMATECH e-Handbook, 1.3.6.7.1: 0.4972 within 0 to 2.77) one
// side of them is beyond in 0.28 % of the stacks.
func TestLinearStacks(t *testing.T) {
	for _, c := range []struct {
		n                          int
		tolerance, limit, rss, all float64
		beyond                     float64 // share, one side
	}{{10, 0.1, 0.316, 0.316, 1.0, 0.00135}, {3, 0.005, 0.008, 0.00866, 0.015, 0.0028}} {
		m, s := stackOf(c.n, c.tolerance, c.limit)
		var l Line
		worst := s.stack(&m.budget, 0, &l)
		if got := l.Margin - l.Root; math.Abs(got/c.rss-1) > 2e-3 {
			t.Errorf("%d parts: %.5f by root of the sum of squares, want %.5f", c.n, got, c.rss)
		}
		x := build{}
		for k, share := range worst {
			x.machine[k] = share * 1.5 * m.budget[k].Within
		}
		if got := c.limit - m.slopes[0].of(&x); math.Abs(got-c.all) > 1e-9 {
			t.Errorf("%d parts: %.5f at worst, want %.5f", c.n, got, c.all)
		}
		const builds = 400_000
		rows := make([][]float64, builds)
		for i := range rows {
			x.draw(&m.budget, rand.New(rand.NewPCG(11, uint64(i))))
			rows[i] = []float64{m.slopes[0].of(&x)}
		}
		l = m.line(0, rows)
		if off := 4 * math.Sqrt(c.beyond/builds); math.Abs(1-l.Works-c.beyond) > off+5e-5 {
			t.Errorf("%d parts: %.5f beyond, want %.5f ± %.5f", c.n, 1-l.Works, c.beyond, off)
		}
		if got := 3 * l.Sigma; math.Abs(got/c.rss-1) > 0.01 {
			t.Errorf("%d parts: three standard deviations of the draws are %.5f, want %.5f", c.n, got, c.rss)
		}
		if want := c.limit / (c.rss / 3); math.Abs(l.Reserve/want-1) > 0.015 {
			t.Errorf("%d parts: %.3f standard deviations in reserve, want %.3f", c.n, l.Reserve, want)
		}
	}
}
