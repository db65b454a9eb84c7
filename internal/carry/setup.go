package carry

import (
	"context"
	"fmt"
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/lanes"
)

// SetUp plans to bring every man from wherever it stands, on the board or in
// a tray, to where it starts the next game. Men without magnets, and men that
// are nowhere, are asked for. The second result is a time that no plan of the
// carriage can beat: straight carries and the cheapest travelling between them.
func (p *Planner) SetUp(ctx context.Context, s Scene) (Plan, float64, error) {
	start := chess.Start()
	d := p.draft(s)
	d.askForLoose(&start)
	chores := d.chores(&start)
	bound := p.limits.roster(chores, d.starts(chores), s.Carriage).lowerBound(p.limits)
	chores = d.ordered(chores)
	if err := d.doAll(ctx, chores); err != nil {
		return Plan{}, 0, err
	}
	d.askForMissing(&start)
	plan := d.plan()
	err := p.CheckTo(s, plan, &start)
	if err == nil {
		return plan, bound, nil
	}
	plan = Plan{Steps: []Step{}, Doubt: err.Error()}
	return plan, bound, fmt.Errorf("no sound way to set up was found; set the men up by hand: %w", err)
}

// askForLoose has a person see to the men that hold no magnet and are not at
// home, and to those for which neither a home nor a slot is free: they come
// off first so that nothing is in the way.
func (d *draft) askForLoose(start *chess.Position) {
	for k := 0; k < len(d.men); {
		m := d.men[k]
		if m.Magnet || m.Square >= chess.NoSquare || start.At(m.Square) == m.Piece {
			k++
			continue
		}
		d.askOff(k)
	}
	placed := map[int]bool{}
	for _, c := range d.chores(start) {
		placed[c.man] = true
	}
	for k := len(d.men) - 1; k >= 0; k-- {
		m := d.men[k]
		if m.Square < chess.NoSquare && start.At(m.Square) != m.Piece && !placed[k] {
			d.askOff(k)
		}
	}
}

// askForMissing has a person put what is still missing.
func (d *draft) askForMissing(start *chess.Position) {
	for sq := chess.Square(0); sq < chess.NoSquare; sq++ {
		if piece := start.At(sq); piece != chess.NoPiece && d.on(sq) < 0 {
			d.askOn(piece, sq)
		}
	}
}

// straightEnough is how far off its middle, as a share of the square, a man
// already at home may stay.
const straightEnough = 0.10

// chores gives every home that lacks its man the man that costs least, and
// sends men that have no home off the board.
func (d *draft) chores(start *chess.Position) (chores []chore) {
	settled := make([]bool, len(d.men))
	for k, m := range d.men {
		if m.Square < chess.NoSquare && start.At(m.Square) == m.Piece {
			settled[k] = true
			if m.Magnet && m.At.Distance(d.p.Centre(m.Square)) > straightEnough*d.p.side {
				chores = append(chores, chore{man: k, to: d.square(m.Square)})
			}
		}
	}
	for _, c := range [2]chess.Color{chess.White, chess.Black} {
		for _, kind := range kinds {
			chores = append(chores, d.matched(chess.MakePiece(c, kind), settled)...)
		}
	}
	return append(chores, d.surplus(settled)...)
}

// starts is where each chore picks its man up: where he stands, or where an
// earlier chore left him to wait.
func (d *draft) starts(chores []chore) []lanes.Spot {
	from := make([]lanes.Spot, len(chores))
	for i, c := range chores {
		from[i] = d.men[c.man].At
		for _, b := range c.after {
			if chores[b].man == c.man {
				from[i] = chores[b].to.at
			}
		}
	}
	return from
}

// matched pairs the free men of one piece with the homes that lack one.
func (d *draft) matched(piece chess.Piece, settled []bool) (out []chore) {
	var men []int
	for k, m := range d.men {
		if m.Piece == piece && m.Magnet && !settled[k] {
			men = append(men, k)
		}
	}
	var want []chess.Square
	for _, sq := range homes(piece) {
		if k := d.on(sq); k < 0 || d.men[k].Piece != piece {
			want = append(want, sq)
		}
	}
	column, _ := assign(d.costs(want, men))
	for i, j := range column {
		if j < len(men) {
			out = append(out, chore{man: men[j], to: d.square(want[i])})
			settled[men[j]] = true
		}
	}
	return out
}

// costs is the time to bring each man to each home; where there are fewer men
// than homes the rest are given nobody.
func (d *draft) costs(want []chess.Square, men []int) [][]float64 {
	cost := make([][]float64, len(want))
	for i, sq := range want {
		for _, k := range men {
			cost[i] = append(cost[i], d.p.limits.carryTime(d.men[k].At, d.p.Centre(sq)))
		}
		for len(cost[i]) < len(want) {
			cost[i] = append(cost[i], math.MaxFloat32)
		}
	}
	return cost
}

// surplus sends men that have no home to free slots, or has them taken off.
func (d *draft) surplus(settled []bool) (out []chore) {
	used := map[lanes.Spot]bool{}
	for k := len(d.men) - 1; k >= 0; k-- {
		if settled[k] || d.men[k].Square >= chess.NoSquare {
			continue
		}
		if !d.men[k].Magnet {
			continue // was asked for already
		}
		for _, s := range d.freeSlots(k) {
			if !used[s] {
				used[s] = true
				out = append(out, chore{man: k, to: target{s, chess.NoSquare}})
				break
			}
		}
	}
	return out
}

// ordered adds what each chore waits for, and breaks rings of men that stand
// on each other's homes by letting one of them wait elsewhere.
func (d *draft) ordered(chores []chore) []chore {
	holds := map[chess.Square]int{} // square → chore of the man on it
	for i, c := range chores {
		if sq := d.men[c.man].Square; sq < chess.NoSquare {
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

// detach lets the man of chore k wait at a free place near its way: chore k
// becomes the first half, a new one brings him home from there.
func (d *draft) detach(chores []chore, k int) []chore {
	c := chores[k]
	wait, ok := d.waitingPlace(chores, c)
	if !ok {
		return chores
	}
	home := chore{man: c.man, to: c.to, after: append([]int{k}, c.after...)}
	chores[k] = chore{man: c.man, to: target{wait, chess.NoSquare}}
	return append(chores, home)
}

// waitingPlace is the free square that makes the way over it shortest; none of
// the chores may want it.
func (d *draft) waitingPlace(chores []chore, c chore) (lanes.Spot, bool) {
	taken := map[chess.Square]bool{}
	for _, o := range chores {
		taken[o.to.square] = true
	}
	best, found := lanes.Spot{}, false
	from := d.men[c.man].At
	f := d.p.carryField(d.men, c.man)
	for sq := chess.Square(0); sq < chess.NoSquare; sq++ {
		at := d.p.Centre(sq)
		if taken[sq] || d.on(sq) >= 0 || f.Measure([]lanes.Spot{at, at}).Spare < 0 {
			continue
		}
		if !found || from.Distance(at)+at.Distance(c.to.at) < from.Distance(best)+best.Distance(c.to.at) {
			best, found = at, true
		}
	}
	return best, found
}

// doAll carries the chores out in a good order; one whose lane is shut is put
// off until another has been done.
func (d *draft) doAll(ctx context.Context, chores []chore) error {
	r := d.p.limits.roster(chores, d.starts(chores), d.at)
	order := r.improve(r.greedy())
	done := make([]bool, len(chores))
	for len(order) > 0 {
		if err := ctx.Err(); err != nil {
			return err
		}
		next := d.firstOpen(chores, order, done)
		if next < 0 { // every lane is shut: the first one by whatever means
			next = d.firstReady(chores, order, done)
			c := chores[order[next]]
			if err := d.bring(ctx, c.man, c.to); err != nil {
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
		if ready(chores[i], done) && d.tryCarry(chores[i].man, chores[i].to) {
			return n
		}
	}
	return -1
}

func (d *draft) firstReady(chores []chore, order []int, done []bool) int {
	for n, i := range order {
		if ready(chores[i], done) {
			return n
		}
	}
	return 0
}
