// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"context"
	"fmt"
	"math"
	"slices"

	"boardhand/internal/carry/plan"
	"boardhand/internal/game"
	"boardhand/internal/lanes"
)

// SetUp plans to bring every piece from wherever it stands, on the board or in
// a tray, to where it starts the next game. What the carriage cannot do, pieces
// without magnets and pieces that are nowhere, is asked for in one sentence at
// the end. The second result is a time that no plan for the same pieces and homes
// can beat: straight carries and the cheapest travelling between them.
func (p *Planner) SetUp(ctx context.Context, s plan.Scene) (plan.Plan, float64, error) {
	d := p.builder(s)
	transfers := d.transfers()
	bound := p.limits.schedule(transfers, d.starts(transfers), s.Carriage).lowerBound(p.limits)
	transfers = d.ordered(transfers)
	if err := d.doAll(ctx, transfers); err != nil {
		return plan.Plan{}, 0, err
	}
	d.askToSetUp()
	made, err := p.validated(s, d, func(made plan.Plan) error { return p.CheckTo(s, made, p.start) }, (*builder).askToSetUp)
	if err != nil {
		return made, 0, fmt.Errorf("no sound way to set up was found; set the pieces up by hand: %w", err)
	}
	return made, bound, nil
}

// askToSetUp has a person, in one sentence, set up what the carriage did not.
func (d *builder) askToSetUp() {
	s := plan.Step{Do: plan.Ask, From: game.NoSquare, To: game.NoSquare}
	var off, on []game.Act
	for k := len(d.pieces) - 1; k >= 0; k-- {
		if m := d.pieces[k]; m.Square < game.NoSquare && d.p.start.At(m.Square) != m.Piece {
			off = append(off, game.Act{Piece: m.Piece, From: m.Square, To: game.NoSquare})
			d.remove(k)
		}
	}
	for _, sq := range d.p.squares.Squares() {
		if piece := d.p.start.At(sq); piece != game.NoPiece && d.on(sq) < 0 {
			on = append(on, game.Act{Piece: piece, From: game.NoSquare, To: sq})
			d.placed(piece, sq)
		}
	}
	if s.Acts = append(off, on...); len(s.Acts) == 0 {
		return
	}
	s.Piece, s.Text = s.Acts[0].Piece, d.restSentence(off, on)
	d.add(s)
	d.asks++
}

// restSentence asks for the pieces of a side without magnets as a whole. Of the other
// it names what must go, first of all, then what stands elsewhere, then what is
// missing, or, where that is much, says that it is missing.
func (d *builder) restSentence(off, on []game.Act) string {
	var goes, moves, puts []string
	all, missing := "for the next game", "where they start"
	if d.p.isShown {
		all, missing = "as the plan shows", "where the plan shows"
	}
	for _, c := range [2]game.Color{game.White, game.Black} {
		n := d.named(c, off, on)
		switch {
		case len(n.goes)+len(n.moves)+len(n.puts) == 0:
			continue
		case !d.p.rig.Pieces.Carries(c.String()), len(n.goes)+len(n.moves) > namedPieces:
			puts = append(puts, fmt.Sprintf("set up the %v pieces %s", c, all))
			continue
		case len(n.puts) > namedPieces:
			n.puts = []string{fmt.Sprintf("stand the %v pieces that are missing %s", c, missing)}
		}
		goes, moves, puts = append(goes, n.goes...), append(moves, n.moves...), append(puts, n.puts...)
	}
	return "Please " + and(slices.Concat(goes, moves, puts)) + "."
}

// naming is what is asked for one side, piece by piece.
type naming struct{ goes, moves, puts []string }

// named takes a side's acts apart: a piece that is put on its square from another one is
// moved, one that no square wants goes off.
func (d *builder) named(c game.Color, off, on []game.Act) (n naming) {
	off = slices.Clone(off)
	for _, a := range on {
		if a.Piece.Color() != c {
			continue
		}
		name := d.p.kinds.NameOf(a.Piece)
		if k := slices.IndexFunc(off, func(b game.Act) bool { return b.Piece == a.Piece }); k >= 0 {
			n.moves = append(n.moves, fmt.Sprintf("move the %s from %v to %v", name, off[k].From, a.To))
			off = slices.Delete(off, k, k+1)
			continue
		}
		n.puts = append(n.puts, fmt.Sprintf("put the %s on %v", name, a.To))
	}
	for _, a := range off {
		if a.Piece.Color() == c {
			n.goes = append(n.goes, fmt.Sprintf("take the %s off %v", d.p.kinds.NameOf(a.Piece), a.From))
		}
	}
	return n
}

// transfers gives every home that lacks its piece the piece that costs least, and
// sends pieces that have no home off the board.
func (d *builder) transfers() (transfers []transfer) {
	settled := make([]bool, len(d.pieces))
	for k, m := range d.pieces {
		if m.Square < game.NoSquare && d.p.start.At(m.Square) == m.Piece {
			settled[k] = true
			if m.Magnet && m.At.Distance(d.p.Centre(m.Square)) > straightEnough*d.p.side {
				transfers = append(transfers, transfer{piece: k, to: d.square(m.Square)})
			}
		}
	}
	for _, c := range [2]game.Color{game.White, game.Black} {
		for _, kind := range d.p.kinds.All() {
			transfers = append(transfers, d.matched(game.MakePiece(c, kind), settled)...)
		}
	}
	return append(transfers, d.surplus(settled)...)
}

// starts is where each transfer picks its piece up: where it stands, or where an
// earlier transfer left it to wait.
func (d *builder) starts(transfers []transfer) []lanes.Spot {
	from := make([]lanes.Spot, len(transfers))
	for i, c := range transfers {
		from[i] = d.pieces[c.piece].At
		for _, b := range c.after {
			if transfers[b].piece == c.piece {
				from[i] = transfers[b].to.at
			}
		}
	}
	return from
}

// matched pairs the free pieces of one piece with the homes that lack one.
func (d *builder) matched(piece game.Piece, settled []bool) (out []transfer) {
	var pieces []int
	for k, m := range d.pieces {
		if m.Piece == piece && m.Magnet && !settled[k] {
			pieces = append(pieces, k)
		}
	}
	var want []game.Square
	for _, sq := range d.p.homes(piece) {
		if k := d.on(sq); k < 0 || d.pieces[k].Piece != piece {
			want = append(want, sq)
		}
	}
	column, _ := assign(d.costs(want, pieces))
	for i, j := range column {
		if j < len(pieces) {
			out = append(out, transfer{piece: pieces[j], to: d.square(want[i])})
			settled[pieces[j]] = true
		}
	}
	return out
}

// costs is the time to bring each piece to each home; where there are fewer pieces
// than homes the rest are given nobody.
func (d *builder) costs(want []game.Square, pieces []int) [][]float64 {
	cost := make([][]float64, len(want))
	for i, sq := range want {
		for _, k := range pieces {
			cost[i] = append(cost[i], d.p.limits.carryTime(d.pieces[k].At, d.p.Centre(sq)))
		}
		for len(cost[i]) < len(want) {
			cost[i] = append(cost[i], math.MaxFloat32)
		}
	}
	return cost
}

// surplus sends pieces that have no home to free slots, or has them taken off.
func (d *builder) surplus(settled []bool) (out []transfer) {
	used := map[lanes.Spot]bool{}
	for k := len(d.pieces) - 1; k >= 0; k-- {
		if settled[k] || d.pieces[k].Square >= game.NoSquare {
			continue
		}
		if !d.pieces[k].Magnet {
			continue // a person sees to it
		}
		for _, s := range d.freeSlots(k) {
			if !used[s] {
				used[s] = true
				out = append(out, transfer{piece: k, to: target{s, game.NoSquare}})
				break
			}
		}
	}
	return out
}

// ordered adds what each transfer waits for, and breaks rings of pieces that stand
// on each other's homes by letting one of them wait elsewhere.
func (d *builder) ordered(transfers []transfer) []transfer {
	holds := map[game.Square]int{} // square → transfer of the piece on it
	for i, c := range transfers {
		if sq := d.pieces[c.piece].Square; sq < game.NoSquare {
			holds[sq] = i
		}
	}
	for i := range transfers {
		if k, taken := holds[transfers[i].to.square]; taken && k != i {
			transfers[i].after = append(transfers[i].after, k)
		}
	}
	return d.unring(transfers)
}

// unring finds each ring of transfers waiting for one another.
func (d *builder) unring(transfers []transfer) []transfer {
	state := make([]int, len(transfers)) // 0 new, 1 on this walk, 2 done
	for i := range len(state) {
		var walk []int
		k := i
		for state[k] == 0 {
			state[k] = 1
			walk = append(walk, k)
			if len(transfers[k].after) == 0 {
				break
			}
			k = transfers[k].after[0]
		}
		if state[k] == 1 && len(transfers[k].after) > 0 {
			transfers = d.detach(transfers, k)
		}
		for _, w := range walk {
			state[w] = 2
		}
	}
	return transfers
}

// detach lets the piece of transfer k wait at a free place near its way: transfer k
// becomes the first half, a new one brings it home from there.
func (d *builder) detach(transfers []transfer, k int) []transfer {
	c := transfers[k]
	wait, ok := d.waitingPlace(transfers, c)
	if !ok {
		return transfers
	}
	home := transfer{piece: c.piece, to: c.to, after: append([]int{k}, c.after...)}
	transfers[k] = transfer{piece: c.piece, to: d.square(wait)}
	return append(transfers, home)
}

// waitingPlace is the free square that makes the way over it shortest; none of
// the transfers may want it.
func (d *builder) waitingPlace(transfers []transfer, c transfer) (game.Square, bool) {
	taken := map[game.Square]bool{}
	for _, o := range transfers {
		taken[o.to.square] = true
	}
	best, found := game.NoSquare, false
	from := d.pieces[c.piece].At
	path := func(sq game.Square) float64 { return from.Distance(d.p.Centre(sq)) + d.p.Centre(sq).Distance(c.to.at) }
	f := d.p.carryField(d.pieces, c.piece)
	for _, sq := range d.p.squares.Squares() {
		at := d.p.Centre(sq)
		if taken[sq] || d.on(sq) >= 0 || f.Measure([]lanes.Spot{at, at}).Spare < 0 {
			continue
		}
		if !found || path(sq) < path(best) {
			best, found = sq, true
		}
	}
	return best, found
}

// doAll carries the transfers out in a good order; one whose lane is shut is put
// off until another has been done. What no means of the carriage can do is
// left to a person.
func (d *builder) doAll(ctx context.Context, transfers []transfer) error {
	r := d.p.limits.schedule(transfers, d.starts(transfers), d.at)
	order := r.improve(r.greedy())
	done := make([]bool, len(transfers))
	for len(order) > 0 {
		if err := ctx.Err(); err != nil {
			return err
		}
		next := d.firstOpen(transfers, order, done)
		if next < 0 { // every lane is shut
			var err error
			if next, err = d.firstForced(ctx, transfers, order, done); err != nil || next < 0 {
				return err
			}
		}
		done[order[next]] = true
		order = append(order[:next], order[next+1:]...)
	}
	return nil
}

func ready(c transfer, done []bool) bool {
	for _, b := range c.after {
		if !done[b] {
			return false
		}
	}
	return true
}

// firstOpen does the first transfer of the order that can be done at once and
// returns its rank, or −1.
func (d *builder) firstOpen(transfers []transfer, order []int, done []bool) int {
	for n, i := range order {
		if ready(transfers[i], done) && d.tryCarry(transfers[i].piece, transfers[i].to) {
			return n
		}
	}
	return -1
}

// firstForced does the first transfer of the order for which others can make
// way, and returns its rank, or −1.
func (d *builder) firstForced(ctx context.Context, transfers []transfer, order []int, done []bool) (int, error) {
	for n, i := range order {
		if c := transfers[i]; ready(c, done) {
			if ok, err := d.stepAside(ctx, c.piece, c.to); ok || err != nil {
				return n, err
			}
		}
	}
	return -1, nil
}
