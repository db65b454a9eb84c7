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
	d := p.draft(s)
	chores := d.chores()
	bound := p.limits.roster(chores, d.starts(chores), s.Carriage).lowerBound(p.limits)
	chores = d.ordered(chores)
	if err := d.doAll(ctx, chores); err != nil {
		return plan.Plan{}, 0, err
	}
	d.askToSetUp()
	made, err := p.judged(s, d, func(made plan.Plan) error { return p.CheckTo(s, made, p.start) }, (*draft).askToSetUp)
	if err != nil {
		return made, 0, fmt.Errorf("no sound way to set up was found; set the pieces up by hand: %w", err)
	}
	return made, bound, nil
}

// askToSetUp has a person, in one sentence, set up what the carriage did not.
func (d *draft) askToSetUp() {
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

// namedMen is how many pieces a set-up sentence names one by one.
const namedPieces = 4

// restSentence asks for the pieces of a side without magnets as a whole, and for
// those of the other piece by piece, or, where they are many, as those missing.
func (d *draft) restSentence(off, on []game.Act) string {
	var parts []string
	for _, c := range [2]game.Color{game.White, game.Black} {
		concerned := slices.ContainsFunc(append(slices.Clone(off), on...), func(a Act) bool { return a.Piece.Color() == c })
		single := singly(c, off, on)
		switch {
		case !concerned:
		case !d.p.rig.Pieces.Carries(c.String()):
			parts = append(parts, fmt.Sprintf("set up the %v pieces for the next game", c))
		case len(single) > namedPieces:
			parts = append(parts, fmt.Sprintf("stand the %v pieces that are missing where they start", c))
		default:
			parts = append(parts, single...)
		}
	}
	return "Please " + and(parts) + "."
}

// singly asks for the pieces of one side one by one; a piece that is put on its
// square from another one is asked for once.
func singly(c game.Color, off, on []game.Act) (out []string) {
	for _, a := range on {
		if a.Piece.Color() == c {
			out = append(out, fmt.Sprintf("put the %v on %v", a.Piece, a.To))
		}
	}
	for _, a := range off {
		same := func(b Act) bool { return b.Piece == a.Piece }
		if a.Piece.Color() == c && !slices.ContainsFunc(on, same) {
			out = append(out, fmt.Sprintf("take the %v off %v", a.Piece, a.From))
		}
	}
	return out
}

// straightEnough is how far off its middle, as a share of the square, a piece
// already at home may stay.
const straightEnough = 0.10

// chores gives every home that lacks its piece the piece that costs least, and
// sends pieces that have no home off the board.
func (d *draft) chores() (chores []chore) {
	settled := make([]bool, len(d.pieces))
	for k, m := range d.pieces {
		if m.Square < game.NoSquare && d.p.start.At(m.Square) == m.Piece {
			settled[k] = true
			if m.Magnet && m.At.Distance(d.p.Centre(m.Square)) > straightEnough*d.p.side {
				chores = append(chores, chore{piece: k, to: d.square(m.Square)})
			}
		}
	}
	for _, c := range [2]game.Color{game.White, game.Black} {
		for _, kind := range game.Kinds {
			chores = append(chores, d.matched(game.MakePiece(c, kind), settled)...)
		}
	}
	return append(chores, d.surplus(settled)...)
}

// starts is where each chore picks its piece up: where it stands, or where an
// earlier chore left it to wait.
func (d *draft) starts(chores []chore) []lanes.Spot {
	from := make([]lanes.Spot, len(chores))
	for i, c := range chores {
		from[i] = d.pieces[c.piece].At
		for _, b := range c.after {
			if chores[b].piece == c.piece {
				from[i] = chores[b].to.at
			}
		}
	}
	return from
}

// matched pairs the free pieces of one piece with the homes that lack one.
func (d *draft) matched(piece game.Piece, settled []bool) (out []chore) {
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
			out = append(out, chore{piece: pieces[j], to: d.square(want[i])})
			settled[pieces[j]] = true
		}
	}
	return out
}

// costs is the time to bring each piece to each home; where there are fewer pieces
// than homes the rest are given nobody.
func (d *draft) costs(want []game.Square, pieces []int) [][]float64 {
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
func (d *draft) surplus(settled []bool) (out []chore) {
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
				out = append(out, chore{piece: k, to: target{s, game.NoSquare}})
				break
			}
		}
	}
	return out
}

// ordered adds what each chore waits for, and breaks rings of pieces that stand
// on each other's homes by letting one of them wait elsewhere.
func (d *draft) ordered(chores []chore) []chore {
	holds := map[game.Square]int{} // square → chore of the piece on it
	for i, c := range chores {
		if sq := d.pieces[c.piece].Square; sq < game.NoSquare {
			holds[sq] = i
		}
	}
	for i := range chores {
		if k, taken := holds[chores[i].to.square]; taken && k != i {
			chores[i].after = append(chores[i].after, k)
		}
	}
	return d.unring(chores)
}

// unring finds each ring of chores waiting for one another.
func (d *draft) unring(chores []chore) []chore {
	state := make([]int, len(chores)) // 0 new, 1 on this walk, 2 done
	for i := range len(state) {
		var walk []int
		k := i
		for state[k] == 0 {
			state[k] = 1
			walk = append(walk, k)
			if len(chores[k].after) == 0 {
				break
			}
			k = chores[k].after[0]
		}
		if state[k] == 1 && len(chores[k].after) > 0 {
			chores = d.detach(chores, k)
		}
		for _, w := range walk {
			state[w] = 2
		}
	}
	return chores
}

// detach lets the piece of chore k wait at a free place near its way: chore k
// becomes the first half, a new one brings it home from there.
func (d *draft) detach(chores []chore, k int) []chore {
	c := chores[k]
	wait, ok := d.waitingPlace(chores, c)
	if !ok {
		return chores
	}
	home := chore{piece: c.piece, to: c.to, after: append([]int{k}, c.after...)}
	chores[k] = chore{piece: c.piece, to: d.square(wait)}
	return append(chores, home)
}

// waitingPlace is the free square that makes the way over it shortest; none of
// the chores may want it.
func (d *draft) waitingPlace(chores []chore, c chore) (game.Square, bool) {
	taken := map[game.Square]bool{}
	for _, o := range chores {
		taken[o.to.square] = true
	}
	best, found := game.NoSquare, false
	from := d.pieces[c.piece].At
	way := func(sq game.Square) float64 { return from.Distance(d.p.Centre(sq)) + d.p.Centre(sq).Distance(c.to.at) }
	f := d.p.carryField(d.pieces, c.piece)
	for _, sq := range d.p.squares.Squares() {
		at := d.p.Centre(sq)
		if taken[sq] || d.on(sq) >= 0 || f.Measure([]lanes.Spot{at, at}).Spare < 0 {
			continue
		}
		if !found || way(sq) < way(best) {
			best, found = sq, true
		}
	}
	return best, found
}

// doAll carries the chores out in a good order; one whose lane is shut is put
// off until another has been done. What no means of the carriage can do is
// left to a person.
func (d *draft) doAll(ctx context.Context, chores []chore) error {
	r := d.p.limits.roster(chores, d.starts(chores), d.at)
	order := r.improve(r.greedy())
	done := make([]bool, len(chores))
	for len(order) > 0 {
		if err := ctx.Err(); err != nil {
			return err
		}
		next := d.firstOpen(chores, order, done)
		if next < 0 { // every lane is shut
			var err error
			if next, err = d.firstForced(ctx, chores, order, done); err != nil || next < 0 {
				return err
			}
		}
		done[order[next]] = true
		order = append(order[:next], order[next+1:]...)
	}
	return nil
}

func ready(c chore, done []bool) bool {
	for _, b := range c.after {
		if !done[b] {
			return false
		}
	}
	return true
}

// firstOpen does the first chore of the order that can be done at once and
// returns its rank, or −1.
func (d *draft) firstOpen(chores []chore, order []int, done []bool) int {
	for n, i := range order {
		if ready(chores[i], done) && d.tryCarry(chores[i].piece, chores[i].to) {
			return n
		}
	}
	return -1
}

// firstForced does the first chore of the order for which others can make
// way, and returns its rank, or −1.
func (d *draft) firstForced(ctx context.Context, chores []chore, order []int, done []bool) (int, error) {
	for n, i := range order {
		if c := chores[i]; ready(c, done) {
			if ok, err := d.stepAside(ctx, c.piece, c.to); ok || err != nil {
				return n, err
			}
		}
	}
	return -1, nil
}
