// SPDX-License-Identifier: Apache-2.0

// Package ranking chooses among the rigs that a search found. Builds are drawn of the
// best of them, the share that works counts first, then cost, then time; what can be set
// freely is then set finer than the search has it. The same rigs give the same ranking,
// however many shards they were found in. It prints nothing.
package ranking

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"

	"golang.org/x/sync/errgroup"

	"boardhand/internal/assess"
	"boardhand/internal/budget"
	"boardhand/internal/propose"
	"boardhand/internal/rig"
	"boardhand/internal/yield"
)

// Rig is a rig that passes every check, with what its builds say.
type Rig struct {
	Candidate int              `json:"candidate"`
	Parts     []propose.Part   `json:"parts"`
	Free      []string         `json:"free"`
	Set       []assess.Setting `json:"set"`     // the keys to change in the given rig
	Refined   []assess.Setting `json:"refined"` // those of them that were set finer than the search had them
	Works     float64          `json:"works"`   // share of the builds that play a whole game
	Error     float64          `json:"works_error"`
	Builds    int              `json:"builds"`
	Reserve   float64          `json:"reserve_sigmas"` // of the line that has the least
	Limit     string           `json:"limit"`          // that line
	Matters   []string         `json:"matters"`        // tolerances, most first
	Warns     []string         `json:"warns"`
	Cost      float64          `json:"cost"`
	Time      float64          `json:"longest_carry_s"`
}

// Ranking is the rigs of which builds were drawn.
type Ranking struct {
	Seed  uint64 `json:"seed"`
	Rigs  []Rig  `json:"rigs"`  // best first
	Front []Rig  `json:"front"` // nowhere beaten in works, cost and time together; cheapest first
	// Why says in three sentences why the first is first, what that gives up, and what
	// limits it.
	Why []string `json:"why"`
}

// share, price and pace are what is compared: in steps of what a maker would notice.
func (a Rig) share() float64 { return math.Round(a.Works / yieldStep) }
func (a Rig) price() float64 { return math.Round(a.Cost * 100) }
func (a Rig) pace() float64  { return math.Round(a.Time / timeStep) }

// better orders rigs: by the share of builds that work, cost, time.
func (a Rig) better(b Rig) int {
	return cmp.Or(cmp.Compare(b.share(), a.share()), cmp.Compare(a.price(), b.price()), cmp.Compare(a.pace(), b.pace()),
		cmp.Compare(len(a.Warns), len(b.Warns)), cmp.Compare(a.Candidate, b.Candidate))
}

// beats says whether a is nowhere worse than b and somewhere better, or all the same and
// ranked before it.
func (a Rig) beats(b Rig) bool {
	if a.share() == b.share() && a.price() == b.price() && a.pace() == b.pace() {
		return a.better(b) < 0
	}
	return a.share() >= b.share() && a.price() <= b.price() && a.pace() <= b.pace()
}

// bench is the rig file around which was searched, and what was drawn so far.
type bench struct {
	text   string // of the file
	ctx    context.Context
	builds int // of each rig
	sure   int // of those that may be the first
	rigs   []Rig
}

// Of ranks what a search found around the rig file of a text, by so many builds of each rig,
// as Builds. It ends with ctx's error when that ends.
func Of(ctx context.Context, found *propose.Result, text string, builds int) (*Ranking, error) {
	if builds < 1 || builds > MostBuilds {
		return nil, fmt.Errorf("builds of each rig must be 1 to %d; got %d", MostBuilds, builds)
	}
	b := &bench{text: text, ctx: ctx, builds: builds, sure: int(float64(builds) * sureTimes)}
	for _, step := range []func() error{
		func() error { return b.draw(first(found, early)) },
		func() error { return b.cheaper(found) },
		func() error { return b.fill(found) },
		b.assure,
		b.refine,
		b.assure,
	} {
		if err := step(); err != nil {
			return nil, err
		}
		slices.SortFunc(b.rigs, Rig.better)
	}
	r := &Ranking{Seed: seed, Rigs: b.rigs, Front: frontOf(b.rigs)}
	r.Why = r.reasons(found.Currency)
	return r, nil
}

// frontOf are the rigs that no other beats, cheapest first.
func frontOf(all []Rig) []Rig {
	out := slices.DeleteFunc(slices.Clone(all), func(r Rig) bool {
		return slices.ContainsFunc(all, func(o Rig) bool { return o.Candidate != r.Candidate && o.beats(r) })
	})
	slices.SortFunc(out, func(a, b Rig) int { return cmp.Or(cmp.Compare(a.price(), b.price()), a.better(b)) })
	return out
}

// first are n rigs that are looked at whatever comes out: the best by margin, and of those
// that nothing beats some over all costs.
func first(found *propose.Result, n int) (out []propose.Proposal) {
	front := thinned(found.Pareto, n/2)
	seen := map[int]bool{}
	for i := range max(len(found.Rigs), len(front)) {
		for _, list := range [][]propose.Proposal{found.Rigs, front} {
			if i < len(list) && !seen[list[i].Candidate] && len(out) < n {
				seen[list[i].Candidate] = true
				out = append(out, list[i])
			}
		}
	}
	return out
}

// thinned are n of a list, evenly, both ends among them.
func thinned(all []propose.Proposal, n int) []propose.Proposal {
	if len(all) <= n {
		return all
	}
	var out []propose.Proposal
	for i := range n {
		out = append(out, all[i*(len(all)-1)/(n-1)])
	}
	return out
}

// cheaper looks at rigs that might come before the best so far: those that cost less, or as
// much and are faster; all, where builds of the best fail. The largest margin comes first.
// As many are drawn at once as there are cores; one that the best of those before it rules
// out is put aside, so that the outcome is that of one after the other.
func (b *bench) cheaper(found *propose.Result) error {
	rest := slices.Concat(found.Rigs, found.Pareto)
	slices.SortStableFunc(rest, func(a, b propose.Proposal) int {
		return cmp.Or(cmp.Compare(b.Margin, a.Margin), cmp.Compare(a.Cost, b.Cost), cmp.Compare(a.Candidate, b.Candidate))
	})
	for len(b.rigs) < drawn {
		var next []propose.Proposal
		for len(rest) > 0 && len(next) < min(runtime.GOMAXPROCS(0), drawn-len(b.rigs)) {
			if p := rest[0]; b.mightLead(p) && !slices.ContainsFunc(next, func(o propose.Proposal) bool { return o.Candidate == p.Candidate }) {
				next = append(next, p)
			}
			rest = rest[1:]
		}
		if len(next) == 0 {
			return nil
		}
		out, err := b.drawn(next)
		if err != nil {
			return err
		}
		for i, p := range next {
			if b.mightLead(p) {
				b.rigs = append(b.rigs, out[i])
			}
		}
	}
	return nil
}

// mightLead says whether a rig that is not in the list could come before the best of it, if
// all of its builds worked.
func (b *bench) mightLead(p propose.Proposal) bool {
	as := Rig{Candidate: p.Candidate, Works: 1, Cost: p.Cost, Time: p.Time}
	return !b.has(p) && as.better(slices.MinFunc(b.rigs, Rig.better)) <= 0
}

// has says whether a rig is in the list.
func (b *bench) has(p propose.Proposal) bool {
	return slices.ContainsFunc(b.rigs, func(r Rig) bool { return r.Candidate == p.Candidate })
}

// fill looks at more of the best by margin until there are as many as are to be drawn.
func (b *bench) fill(found *propose.Result) error {
	more := slices.DeleteFunc(first(found, 2*drawn), b.has)
	return b.draw(more[:min(len(more), max(0, drawn-len(b.rigs)))])
}

// draw judges builds of rigs and puts them into the list.
func (b *bench) draw(all []propose.Proposal) error {
	out, err := b.drawn(all)
	b.rigs = append(b.rigs, out...)
	return err
}

// drawn are rigs with their builds judged, on all cores.
func (b *bench) drawn(all []propose.Proposal) ([]Rig, error) {
	out := make([]Rig, len(all))
	return out, together(len(all), func(i int) error {
		p := all[i]
		out[i] = Rig{Candidate: p.Candidate, Parts: p.Parts, Free: p.Free, Set: p.Set, Refined: []assess.Setting{}, Warns: p.Warns, Cost: p.Cost, Time: p.Time}
		_, made, err := b.build(p.Set)
		if err != nil {
			return err
		}
		return b.judge(&out[i], made, b.builds)
	})
}

// together does n things on all cores.
func together(n int, do func(int) error) error {
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	for i := range n {
		g.Go(func() error { return do(i) })
	}
	return g.Wait()
}

// build makes the file and the rig of settings.
func (b *bench) build(set []assess.Setting) (string, *rig.Rig, error) {
	text, err := propose.Write(b.text, set)
	if err != nil {
		return "", nil, err
	}
	r, err := rig.Parse("rig.toml", []byte(text), rig.Machine)
	if err != nil {
		return "", nil, fmt.Errorf("a rig that was found cannot be read back: %w", err)
	}
	return text, r, nil
}

// judge draws n builds of a rig. One of which none can be judged is one of which none works.
func (b *bench) judge(r *Rig, made *rig.Rig, n int) error {
	if b.ctx.Err() != nil {
		return b.ctx.Err()
	}
	of, err := budget.Of(made)
	if err != nil {
		return err
	}
	r.Works, r.Error, r.Builds, r.Reserve, r.Limit, r.Matters = 0, 0, n, 0, "", []string{}
	m, err := yield.Of(made, of)
	if err != nil {
		return nil
	}
	got, err := m.Run(b.ctx, yield.Options{Builds: n, Seed: seed})
	if err != nil {
		return err
	}
	r.Works, r.Error = got.Works, got.Error
	if len(got.Lines) > 0 {
		r.Reserve, r.Limit = got.Lines[0].Reserve, got.Lines[0].ID
		for _, s := range got.Lines[0].Matters[:min(named, len(got.Lines[0].Matters))] {
			r.Matters = append(r.Matters, s.Title)
		}
	}
	return nil
}

// assure draws more builds of the first rigs, until the first ones have them. All of those
// that lack them are drawn at once: whatever becomes of the first of them, the next are still
// among the first.
func (b *bench) assure() error {
	slices.SortFunc(b.rigs, Rig.better)
	for left := leaders; left > 0; {
		var short []int
		for i, r := range b.rigs[:min(leaders/2, len(b.rigs))] {
			if r.Builds < b.sure && len(short) < left {
				short = append(short, i)
			}
		}
		if len(short) == 0 {
			return nil
		}
		left -= len(short)
		err := together(len(short), func(k int) error {
			r := &b.rigs[short[k]]
			_, made, err := b.build(r.Set)
			if err != nil {
				return err
			}
			return b.judge(r, made, b.sure)
		})
		if err != nil {
			return err
		}
		slices.SortFunc(b.rigs, Rig.better)
	}
	return nil
}
