// SPDX-License-Identifier: Apache-2.0

package inference

import (
	"cmp"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/nats"
	"boardhand/internal/sight/scene"
)

// Sequences looks for positions that several plies lead to, one after the other, from two
// up to most: pictures between may be missing, or may have shown nothing. Those that fit the
// squares best, each by itself, are weighed on the picture. Boards that known hypotheses have are left
// to these.
func (q *Search) Sequences(pos *chess.Position, most int, known []hypothesis.Hypothesis) []hypothesis.Hypothesis {
	b := beam{search: q, start: *pos, gains: map[place]nats.LogEvidence{}, found: map[scene.Occupancy]*sequence{}}
	for k := range known {
		if s := known[k].State; s == hypothesis.Same || s == hypothesis.Moved {
			b.known = append(b.known, known[k].After)
		}
	}
	front, spent := []sequence{{pos: *pos, prior: hypothesis.SequencePrior}}, q.Spent
	for depth := 1; depth <= most && !q.Stopped() && q.Spent-spent < strayMost; depth++ {
		front = b.deeper(front)
		if depth > 1 {
			b.collect(front)
		}
	}
	return b.weigh()
}

// sequence is one way to go on from the position.
type sequence struct {
	pos    chess.Position
	plies  []chess.Move
	prior  nats.LogPrior
	score  nats.LogPosterior // by its squares, each by itself, and its prior
	orders [][]chess.Move    // all that lead to the same board
}

// beam is the search for sequences, the likeliest ones only.
type beam struct {
	search *Search
	start  chess.Position
	gains  map[place]nats.LogEvidence // of one square's change alone
	known  []scene.Occupancy
	found  map[scene.Occupancy]*sequence
}

// step is a sequence of the front and a move that goes on from it.
type step struct {
	from  *sequence
	move  chess.Move
	prior nats.LogPrior
	score nats.LogPosterior
}

// deeper makes each legal move in each position and keeps the likeliest.
func (b *beam) deeper(front []sequence) []sequence {
	var steps []step
	for i := range front {
		from := &front[i]
		legal := from.pos.LegalMoves(nil)
		for _, m := range legal {
			s := step{from: from, move: m, prior: from.prior + hypothesis.PlyPrior(m, len(legal))}
			next := from.pos.After(m)
			s.score = b.fit(&next).Posterior(s.prior)
			steps = append(steps, s)
		}
	}
	slices.SortStableFunc(steps, func(a, b step) int { return cmp.Compare(b.score, a.score) })
	out := make([]sequence, min(len(steps), beamWidth))
	for k := range out {
		s := &steps[k]
		out[k] = sequence{pos: s.from.pos.After(s.move), plies: append(slices.Clone(s.from.plies), s.move), prior: s.prior, score: s.score}
	}
	return out
}

// fit is how well the squares fit a position, each by itself.
func (b *beam) fit(pos *chess.Position) nats.LogEvidence {
	sum := nats.LogEvidence(0)
	for s, p := range b.search.Scene.Board {
		if now := pos.At(chess.Square(s)); now != p {
			sum += b.gain(place{now, chess.Square(s)})
		}
	}
	return sum
}

// gain is the evidence for one square's change.
func (b *beam) gain(c place) nats.LogEvidence {
	v, ok := b.gains[c]
	if !ok {
		g := hypothesis.Hypothesis{After: b.search.Scene.Board}
		g.After[c.square] = c.piece
		b.search.weighAlone(&g)
		v = g.Posterior.Without(0)
		b.gains[c] = v
	}
	return v
}

// collect notes the boards of a depth, each with all orders that lead to it.
func (b *beam) collect(front []sequence) {
	for i := range front {
		s := &front[i]
		board := scene.OccupancyOf(&s.pos)
		if slices.Contains(b.known, board) || roundabout(b.start, s.plies) {
			continue
		}
		old := b.found[board]
		switch {
		case old == nil || s.score > old.score:
			b.found[board] = s
			s.orders = [][]chess.Move{s.plies}
		case len(s.plies) == len(old.plies):
			old.orders = append(old.orders, s.plies)
		}
	}
}

// roundabout says whether a piece is back where it was before some plies, or where one move would
// have brought it: no picture shows that it moved twice, so that two plies of one side, or three
// with one between, would pass for four of both.
func roundabout(start chess.Position, plies []chess.Move) bool {
	type way struct {
		home   chess.Square
		before chess.Position // its first move
		isLong bool           // it moved more than once
	}
	ways, pos := map[chess.Square]way{}, start // by where pieces stand that moved
	for _, m := range plies {
		w, ok := ways[m.From()]
		if w.isLong = ok; !ok {
			w.home, w.before = m.From(), pos
		}
		delete(ways, m.From())
		ways[m.To()], pos = w, pos.After(m)
	}
	for at, w := range ways {
		if w.isLong && (at == w.home || slices.ContainsFunc(w.before.LegalMoves(nil), func(m chess.Move) bool { return m.From() == w.home && m.To() == at })) {
			return true
		}
	}
	return false
}

// weigh weighs the likeliest on the picture.
func (b *beam) weigh() []hypothesis.Hypothesis {
	var best []*sequence
	for _, s := range b.found {
		best = append(best, s)
	}
	slices.SortFunc(best, func(a, b *sequence) int {
		return cmp.Or(cmp.Compare(b.score, a.score), slices.Compare(a.plies, b.plies))
	})
	var out []hypothesis.Hypothesis
	for _, s := range best[:min(len(best), sequencesWeighed)] {
		g := hypothesis.Hypothesis{State: hypothesis.Several, Orders: s.orders, After: scene.OccupancyOf(&s.pos), Prior: s.prior}
		b.search.weighAlone(&g)
		out = append(out, g)
	}
	hypothesis.Sort(out)
	for i := range min(sequencesRefined, len(out)) {
		b.search.refine(&out[i])
	}
	return b.withKinds(out, min(sequencesRefined, len(out)))
}

// withKinds adds to hypotheses, the first so many refined, those that differ from these in
// what pawns were promoted to, all refined: a kind that is not weighed as well as another
// cannot be told from it.
func (b *beam) withKinds(all []hypothesis.Hypothesis, refined int) []hypothesis.Hypothesis {
	isRefined := map[scene.Occupancy]bool{}
	for i := range all[:refined] {
		isRefined[all[i].After] = true
	}
	for next := slices.Clone(all[:refined]); len(next) > 0 && !b.search.Stopped(); next = next[1:] {
		on, plies := next[0].Promotions()
		for i := range on {
			for kind := chess.Knight; kind <= chess.Queen; kind++ {
				g, ok := b.promotedTo(&next[0], plies[i], kind)
				if !ok || isRefined[g.After] {
					continue
				}
				isRefined[g.After] = true
				k := slices.IndexFunc(all, func(o hypothesis.Hypothesis) bool { return o.After == g.After })
				if k < 0 {
					b.search.weighAlone(&g)
					k, all = len(all), append(all, g)
				}
				b.refineLike(&all[k], &next[0])
				next = append(next, all[k])
			}
		}
	}
	return all
}

// refineLike refines a hypothesis from where the pieces of another stand.
func (b *beam) refineLike(h, from *hypothesis.Hypothesis) {
	for k := range h.Stood {
		if m := from.Arrived(h.Stood[k].Square); m != nil {
			h.Stood[k] = b.search.Scene.Put(h.Stood[k].Piece, m.Square, m.At)
		}
	}
	b.search.refine(h)
}

// promotedTo is a hypothesis whose pawn became another kind in one ply; false where the rules
// forbid what follows then.
func (b *beam) promotedTo(h *hypothesis.Hypothesis, ply int, kind chess.Kind) (hypothesis.Hypothesis, bool) {
	order := slices.Clone(h.Orders[0])
	order[ply] = chess.MakeMove(order[ply].From(), order[ply].To(), kind)
	pos := b.start
	for _, m := range order {
		if !slices.Contains(pos.LegalMoves(nil), m) {
			return hypothesis.Hypothesis{}, false
		}
		pos = pos.After(m)
	}
	prior := h.Prior + hypothesis.PlyPrior(order[ply], 1) - hypothesis.PlyPrior(h.Orders[0][ply], 1)
	return hypothesis.Hypothesis{State: hypothesis.Several, Orders: [][]chess.Move{order}, After: scene.OccupancyOf(&pos), Prior: prior}, true
}
