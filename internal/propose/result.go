// SPDX-License-Identifier: Apache-2.0

package propose

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"

	"boardhand/internal/assess"
)

// Proposal is a rig that passes every check.
type Proposal struct {
	Candidate int              `json:"candidate"`
	List      int              `json:"list"` // the same for rigs of the same magnets, sheet and feet
	Parts     []Part           `json:"parts"`
	Free      []string         `json:"free"` // speed, squares, camera height
	Set       []assess.Setting `json:"set"`  // the keys to change in the given rig
	Margin    float64          `json:"margin_share"`
	Tightest  string           `json:"tightest"`
	Warns     []string         `json:"warns"`
	Cost      float64          `json:"cost"`
	Time      float64          `json:"longest_carry_s"`
}

// Failing is a line that fails, and what would mend it.
type Failing struct {
	ID     string  `json:"id"`
	Title  string  `json:"title"`
	Share  float64 `json:"margin_share"`
	Why    string  `json:"why"`
	Change string  `json:"change"`
}

// Miss is a rig that fails one or two lines only.
type Miss struct {
	Candidate int              `json:"candidate"`
	Parts     []Part           `json:"parts"`
	Free      []string         `json:"free"`
	Set       []assess.Setting `json:"set"`
	Cost      float64          `json:"cost"`
	Time      float64          `json:"longest_carry_s"`
	Short     float64          `json:"shortfall_share"`
	Fails     []Failing        `json:"fails"`
}

// Stop counts the candidates that a line stops.
type Stop struct {
	ID    string `json:"id"`
	Count int    `json:"count"`
}

// Result is what a search, or several merged, has found.
type Result struct {
	Search     string     `json:"search"` // tells it from searches of other rigs and stocks
	Currency   string     `json:"currency"`
	Candidates int        `json:"candidates"` // of the whole search
	Shards     []Shard    `json:"shards"`
	Judged     int        `json:"judged"`
	Passed     int        `json:"passed"`
	NotToHave  int        `json:"not_to_have"` // a part runs out and has no price
	Rigs       []Proposal `json:"rigs"`        // best first, one for each choice of magnets, sheet and feet
	Pareto     []Proposal `json:"pareto"`      // nowhere beaten in margin, cost and time; cheapest first
	Near       []Miss     `json:"near"`
	Stops      []Stop     `json:"stops"`
	Notes      []string   `json:"notes,omitempty"`

	space *Space
	lines []string
}

// result writes out a tally.
func (s *Space) result(t *tally, part Shard, lines []string) *Result {
	r := &Result{Search: s.Sum, Currency: s.currency, Candidates: s.Size(), Shards: []Shard{part}, Judged: t.judged, Passed: t.passed,
		NotToHave: t.short, Rigs: []Proposal{}, Pareto: []Proposal{}, Near: []Miss{}, Notes: s.Notes, space: s, lines: lines}
	for _, f := range t.best {
		r.Rigs = append(r.Rigs, s.proposal(f, lines))
	}
	for _, f := range t.sorted() {
		r.Pareto = append(r.Pareto, s.proposal(f, lines))
	}
	near := slices.SortedFunc(maps.Values(t.near), find.nearer)
	for _, f := range near[:min(len(near), misses)] {
		r.Near = append(r.Near, s.miss(f, lines))
	}
	r.Stops = stops(t.stops, lines)
	return r
}

// stops lists the lines that stop candidates, most first.
func stops(counts []int, lines []string) []Stop {
	out := []Stop{}
	for i, n := range counts {
		if n > 0 {
			out = append(out, Stop{lines[i], n})
		}
	}
	slices.SortStableFunc(out, func(a, b Stop) int { return cmp.Compare(b.Count, a.Count) })
	return out
}

func (s *Space) proposal(f find, lines []string) Proposal {
	parts, _, _ := s.price(s.choose(f.n))
	p := Proposal{Candidate: f.n, List: f.list, Parts: parts[:], Free: s.gratis(f.n), Set: s.Settings(f.n), Margin: f.margin,
		Tightest: lines[f.tight], Warns: []string{}, Cost: f.cost, Time: f.time}
	if math.IsInf(f.margin, 0) { // no line of those that count applies
		p.Margin, p.Tightest = 0, ""
	}
	for i, id := range lines {
		if f.warned>>min(i, 63)&1 == 1 {
			p.Warns = append(p.Warns, id)
		}
	}
	return p
}

// gratis names the choices of a candidate that cost nothing.
func (s *Space) gratis(n int) []string {
	out := []string{}
	c := s.choose(n)
	for k := bought; k < int(slots); k++ {
		out = append(out, slotNames[k]+" "+s.options[k][c[k]].name)
	}
	return out
}

func (s *Space) miss(f find, lines []string) Miss {
	parts, _, _ := s.price(s.choose(f.n))
	m := Miss{Candidate: f.n, Parts: parts[:], Free: s.gratis(f.n), Set: s.Settings(f.n), Cost: f.cost, Time: f.time, Short: f.short}
	for _, i := range f.fails {
		if i >= 0 {
			m.Fails = append(m.Fails, Failing{ID: lines[i]})
		}
	}
	return m
}

// Explain says why the near misses fail and what would mend them, cheapest first; that takes
// some seconds each. When ctx ends the rest stays unexplained.
func (r *Result) Explain(ctx context.Context) {
	for i := range r.Near {
		if ctx.Err() != nil || r.space == nil {
			return
		}
		for _, c := range assess.Run(r.space.Rig(r.Near[i].Candidate), r.space.stock.Price) {
			for j := range r.Near[i].Fails {
				if f := &r.Near[i].Fails[j]; f.ID == c.ID {
					*f = Failing{c.ID, c.Title, c.Share, c.Why, c.Change}
				}
			}
		}
	}
}

// Merge puts the results of several shards of one search together.
func Merge(all []*Result) (*Result, error) {
	if len(all) == 0 {
		return nil, errors.New("nothing to merge")
	}
	lines := assess.Lines()
	first := all[0]
	sum := newTally(len(lines))
	out := &Result{Search: first.Search, Currency: first.Currency, Candidates: first.Candidates, Notes: first.Notes, lines: lines}
	rigs, missed := map[int]Proposal{}, map[int]Miss{}
	for _, r := range all {
		if r.Search != first.Search || r.Candidates != first.Candidates {
			return nil, errors.New("the files are of different searches: rig, stock or program changed between them")
		}
		out.Shards = append(out.Shards, r.Shards...)
		t, err := r.tally(lines)
		if err != nil {
			return nil, err
		}
		sum.add(t)
		for _, p := range append(slices.Clone(r.Rigs), r.Pareto...) {
			rigs[p.Candidate] = p
		}
		for _, m := range r.Near {
			missed[m.Candidate] = m
		}
	}
	if err := out.joinShards(); err != nil {
		return nil, err
	}
	sum.trim()
	out.fill(sum, rigs, missed)
	return out, nil
}

// joinShards sorts the shards and refuses one that was counted twice.
func (r *Result) joinShards() error {
	slices.SortFunc(r.Shards, func(a, b Shard) int { return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To)) })
	joined := r.Shards[:1]
	for _, s := range r.Shards[1:] {
		last := &joined[len(joined)-1]
		if s.From < last.To {
			return fmt.Errorf("two of the files hold the same candidates, %d to %d: give each shard once", s.From, min(s.To, last.To))
		}
		if s.From == last.To {
			last.To = s.To
			continue
		}
		joined = append(joined, s)
	}
	r.Shards = joined
	return nil
}

func (r *Result) fill(t *tally, rigs map[int]Proposal, missed map[int]Miss) {
	r.Judged, r.Passed, r.NotToHave = t.judged, t.passed, t.short
	r.Rigs, r.Pareto, r.Near = []Proposal{}, []Proposal{}, []Miss{}
	for _, f := range t.best {
		r.Rigs = append(r.Rigs, rigs[f.n])
	}
	for _, f := range t.sorted() {
		r.Pareto = append(r.Pareto, rigs[f.n])
	}
	near := slices.SortedFunc(maps.Values(t.near), find.nearer)
	for _, f := range near[:min(len(near), misses)] {
		r.Near = append(r.Near, missed[f.n])
	}
	r.Stops = stops(t.stops, r.lines)
}

// tally is a result as a search counts it.
func (r *Result) tally(lines []string) (*tally, error) {
	t := newTally(len(lines))
	t.judged, t.passed, t.short = r.Judged, r.Passed, r.NotToHave
	var err error
	place := func(id string) int {
		i := slices.Index(lines, id)
		if i < 0 && id != "" {
			err = fmt.Errorf("no check is named %q: the file is of another version of the program", id)
		}
		return i
	}
	remember := func(p Proposal) find {
		f := find{n: p.Candidate, margin: p.Margin, cost: p.Cost, time: p.Time, list: p.List}
		for _, id := range p.Warns {
			f.warned |= 1 << min(max(place(id), 0), 63)
		}
		return f
	}
	for _, p := range r.Rigs {
		t.best = append(t.best, remember(p))
	}
	for _, p := range r.Pareto {
		t.front = append(t.front, remember(p))
	}
	for _, m := range r.Near {
		f := find{n: m.Candidate, cost: m.Cost, time: m.Time, short: m.Short, fails: [2]int{-1, -1}}
		for i, l := range m.Fails[:min(2, len(m.Fails))] {
			f.fails[i] = place(l.ID)
		}
		t.miss(f)
	}
	for _, s := range r.Stops {
		if i := place(s.ID); i >= 0 {
			t.stops[i] += s.Count
		}
	}
	return t, err
}
