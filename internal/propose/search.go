// SPDX-License-Identifier: Apache-2.0

package propose

import (
	"context"
	"math"
	"runtime"
	"slices"
	"strings"
	"sync"

	"golang.org/x/sync/errgroup"

	"boardhand/internal/assess"
)

// Shard is one of several parts of a search: candidates From up to To.
type Shard struct{ From, To int }

// Shard cuts part k of n, counted from 1.
func (s *Space) Shard(k, n int) Shard {
	cut := func(k int) int { return int(int64(s.Size()) * int64(k) / int64(n)) }
	return Shard{cut(k - 1), cut(k)}
}

// Search judges the candidates of a shard on all cores. When ctx ends it gives
// what was found so far. progress, when not nil, hears how many more were
// judged.
func (s *Space) Search(ctx context.Context, part Shard, progress func(int)) *Result {
	lines := assess.Lines()
	h := &hunt{space: s, shared: s.shared(), rank: s.ranked(lines), lines: lines}
	sum := newTally(len(lines))
	var mu sync.Mutex
	g, ctx := errgroup.WithContext(ctx)
	g.SetLimit(runtime.GOMAXPROCS(0))
	inner := s.over(coupled)
	for from := part.From; from < part.To && ctx.Err() == nil; {
		to := min(part.To, (from/inner+1)*inner)
		h, block := *h, Shard{from, to}
		g.Go(func() error {
			t := h.block(ctx, block)
			mu.Lock()
			defer mu.Unlock()
			sum.add(t)
			if progress != nil {
				progress(t.judged + t.short)
			}
			return nil
		})
		from = to
	}
	_ = g.Wait()
	sum.trim()
	return s.result(sum, part, lines)
}

// ranked says which lines count for a rig's margin: those that the stock can
// change, cautions left out and what either fits or does not; all but cautions when
// that leaves none.
func (s *Space) ranked(lines []string) []bool {
	out, some := make([]bool, len(lines)), false
	for i, id := range lines {
		d := dependsOf(id)
		moves := slices.ContainsFunc(d.on, s.varied)
		if d.forces {
			moves = moves || s.varied(driveMagnet) || s.varied(footMagnet) || s.varied(sheet)
		}
		out[i] = moves && !caution(id) && !d.fits
		some = some || out[i]
	}
	if !some {
		for i, id := range lines {
			out[i] = !caution(id)
		}
	}
	return out
}

// caution lines tell what to look out for; no part makes them better.
func caution(id string) bool { return strings.HasPrefix(id, "caution.") }

// hunt is what all blocks of a search share.
type hunt struct {
	space  *Space
	shared []cells
	rank   []bool
	lines  []string
}

// block judges candidates that share magnets and sheet.
func (h *hunt) block(ctx context.Context, b Shard) *tally {
	t := newTally(len(h.lines))
	g := h.space.newGroup(h.shared)
	inner := h.space.over(listed)
	var best find
	held := false
	for n := b.From; n < b.To && ctx.Err() == nil; n++ {
		if held && n/inner != best.list {
			t.best, held = append(t.best, best), false
		}
		ch := h.space.choose(n)
		_, cost, ok := h.space.price(ch)
		if !ok {
			t.short++
			continue
		}
		t.judged++
		f := find{n: n, list: n / inner, cost: cost}
		switch fails := h.judge(g, t, &ch, &f); {
		case fails == 0:
			t.passed++
			t.front = joined(t.front, f)
			if !held || f.better(best) < 0 {
				best, held = f, true
			}
		case fails <= len(f.fails):
			t.miss(f)
		}
	}
	if held {
		t.best = append(t.best, best)
	}
	return t
}

// judge fills in a find and counts the lines that fail.
func (h *hunt) judge(g *group, t *tally, ch *choice, f *find) int {
	fails := 0
	f.margin, f.fails = math.Inf(1), [2]int{-1, -1}
	for i := range g.lines {
		c := g.look(&g.lines[i], ch)
		switch {
		case c.verdict == assess.Fail:
			if fails < len(f.fails) {
				f.fails[fails] = i
			}
			f.short -= c.share
			fails++
			t.stops[i]++
		case c.verdict == assess.Warn && !caution(h.lines[i]):
			f.warned |= 1 << min(i, 63)
		}
		if h.rank[i] && c.applies && c.share < f.margin {
			f.margin, f.tight = c.share, i
		}
		if h.lines[i] == TimeLine {
			f.time = c.value
		}
	}
	return fails
}

// TimeLine is the check whose value is the move time.
const TimeLine = "drive.time"
