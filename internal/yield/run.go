// SPDX-License-Identifier: Apache-2.0

package yield

import (
	"context"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"boardhand/internal/assess"
)

// Options of a run.
type Options struct {
	Builds  int
	Seed    uint64
	Workers int // 0: all cores; the result is the same
}

// Line is what the builds say of one line.
type Line struct {
	ID      string  `json:"id"`
	Title   string  `json:"title"`
	Unit    string  `json:"unit"`
	Works   float64 `json:"works"`   // share of the builds of which it can be judged
	Judged  int     `json:"judged"`  // builds
	Margin  float64 `json:"margin"`  // of the machine as drawn, in Unit
	Mean    float64 `json:"mean"`    // over the builds
	Sigma   float64 `json:"sigma"`   // standard deviation
	Reserve float64 `json:"reserve"` // standard deviations: a reliability index
	Root    float64 `json:"rss"`     // margin less the root of the sum of squares of the falls
	Worst   float64 `json:"worst"`   // margin with every tolerance at its worse end
	Matters []Swing `json:"matters"` // what moves it, most first
}

// Swing is what one tolerance does to a margin, alone at its ends.
type Swing struct {
	Key   string  `json:"key"`
	Title string  `json:"title"`
	From  float64 `json:"from"` // margin at the lower end of the tolerance
	To    float64 `json:"to"`   // at the upper
	Fall  float64 `json:"fall"` // by how much the worse end lies below the margin as drawn
}

// Result is what a run says of a rig.
type Result struct {
	Rig     string   `json:"rig"`
	Builds  int      `json:"builds"`
	Seed    uint64   `json:"seed"`
	Works   float64  `json:"works"`   // share of builds on which a whole game goes
	Error   float64  `json:"error"`   // standard error of Works, by the number of builds
	First   string   `json:"first"`   // the line that keeps most builds from working; "" when all work
	Lines   []Line   `json:"lines"`   // least reserve first
	Matters []Swing  `json:"matters"` // to the line with the least reserve, in its standard deviations
	Certain []string `json:"certain"` // lines on which no tolerance bears and that hold
	Fails   []string `json:"fails"`   // lines that fail in every build
	Budget  []Entry  `json:"budget"`
}

// Entry is one tolerance as it was drawn.
type Entry struct {
	Key    string `json:"key"`
	Title  string `json:"title"`
	Within string `json:"within"`
	Shape  string `json:"shape"`
	Source string `json:"source"`
}

// Run draws builds and judges them. Build k of a seed is the same build however many
// there are and whoever draws it.
func (m *Model) Run(ctx context.Context, o Options) (Result, error) {
	all, err := m.draw(ctx, o)
	if err != nil {
		return Result{}, err
	}
	r := Result{Rig: m.rig.Name(), Builds: o.Builds, Seed: o.Seed}
	for _, c := range m.certain {
		if c.Verdict == assess.Fail {
			r.Fails = append(r.Fails, c.ID)
		} else {
			r.Certain = append(r.Certain, c.ID)
		}
	}
	for _, t := range m.budget {
		r.Budget = append(r.Budget, Entry{t.Key, t.Title, t.String(), string(t.Shape), t.Source})
	}
	sway := m.sway()
	for i := range m.ids {
		l := m.line(i, all)
		if l.Judged == 0 && i != hold {
			continue
		}
		sway.into(m, i, &l)
		r.Lines = append(r.Lines, l)
	}
	r.whole(m, all)
	sway.game(m, &r)
	slices.SortStableFunc(r.Lines, func(a, b Line) int {
		return compare(a.Reserve, b.Reserve)
	})
	return r, nil
}

func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// draw judges all builds; a row of margins each.
func (m *Model) draw(ctx context.Context, o Options) ([][]float64, error) {
	all := make([][]float64, o.Builds)
	if o.Workers == 0 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	var next atomic.Int64
	var wait sync.WaitGroup
	for range o.Workers {
		wait.Go(func() {
			b := bench{Model: m}
			x := build{pieces: slices.Clone(m.pieces)}
			for ctx.Err() == nil {
				k := next.Add(1) - 1
				if k >= int64(o.Builds) {
					return
				}
				x.draw(&m.budget, rand.New(rand.NewPCG(o.Seed, uint64(k))))
				all[k] = b.margins(&x, make([]float64, direct, len(m.ids)))
			}
		})
	}
	wait.Wait()
	return all, ctx.Err()
}

// line is what all builds say of one line.
func (m *Model) line(i int, all [][]float64) Line {
	l := Line{ID: m.ids[i], Title: m.titles[i], Unit: m.units[i]}
	var works int
	var sum, squares float64
	for _, row := range all {
		if v := row[i]; !math.IsNaN(v) {
			l.Judged++
			sum += v
			if v >= 0 {
				works++
			}
		}
	}
	if l.Judged == 0 {
		return l
	}
	n := float64(l.Judged)
	l.Works, l.Mean = float64(works)/n, sum/n
	for _, row := range all {
		if v := row[i]; !math.IsNaN(v) {
			squares += (v - l.Mean) * (v - l.Mean)
		}
	}
	l.Sigma = math.Sqrt(squares / max(1, n-1))
	l.Reserve = l.reserve(l.Judged - works)
	return l
}

// reserve is the generalised reliability index of a line, standard deviations of a normal
// distribution that fails as often: Φ⁻¹(works), where enough builds fail to count by; else
// Cornell's, mean over standard deviation. Source: Ditlevsen and Madsen, Structural
// Reliability Methods (from memory).
func (l Line) reserve(failing int) float64 {
	if failing >= countable && l.Judged-failing >= countable {
		return math.Sqrt2 * math.Erfinv(2*l.Works-1)
	}
	if l.Sigma > 0 {
		return min(max(l.Mean/l.Sigma, -mostReserve), mostReserve)
	}
	return math.Copysign(mostReserve, l.Mean)
}

// whole counts the builds on which every line holds.
func (r *Result) whole(m *Model, all [][]float64) {
	works, stops := 0, make([]int, len(m.ids))
	for _, row := range all {
		isSound := true
		for i, v := range row {
			if v < 0 {
				isSound = false
				stops[i]++
			}
		}
		if isSound {
			works++
		}
	}
	most := 0
	for i, n := range stops {
		if n > most {
			most, r.First = n, m.ids[i]
		}
	}
	if len(r.Fails) > 0 {
		works, r.First = 0, r.Fails[0]
	}
	n := float64(max(1, r.Builds))
	r.Works = float64(works) / n
	r.Error = math.Sqrt(r.Works * (1 - r.Works) / n)
}
