// SPDX-License-Identifier: Apache-2.0

//go:build linux

package carry

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"
	"time"

	"golang.org/x/sys/unix"

	"boardhand/internal/carry/trajectory"
	"boardhand/internal/chess"
	"boardhand/internal/lanes"
	"boardhand/internal/rig"
	"boardhand/internal/search"
	"boardhand/internal/unit"
)

// turn is one position from a game with a legal move of the machine's.
type turn struct {
	pos  chess.Position
	move chess.Move
}

// turnsFromGames lets two casual players play until n positions with Black to
// move are there; the move is one of the legal ones by chance.
func turnsFromGames(t testing.TB, rnd *rand.Rand, n int) []turn {
	t.Helper()
	var out []turn
	for len(out) < n {
		pos := chess.Start()
		for ply := 0; ply < 160 && len(out) < n; ply++ {
			moves := pos.LegalMoves(nil)
			if len(moves) == 0 {
				break
			}
			if pos.SideToMove() == chess.Black {
				out = append(out, turn{pos, moves[rnd.IntN(len(moves))]})
			}
			m, err := search.Casual(search.Root{Position: pos}, rnd, rnd.Float64())
			if err != nil {
				t.Fatal(err)
			}
			pos.Make(m)
		}
	}
	return out
}

// tally is what came of many moves with one size of base.
type tally struct {
	carried, aside, straight, asked, doubt int       // moves
	plain                                  int       // moves the plain rule could have carried
	shut                                   int       // moves with a clear path that the planner has no lane for
	over                                   []float64 // time of a carry over that of the shortest clear path driven likewise
	bare                                   []float64 // over that of the quickest S-curve as long, without corners and lead
	took                                   []time.Duration
}

// withBases is the default machine with bases of that share of a square.
func withBases(share float64) func(*rig.Rig) {
	return func(r *rig.Rig) {
		base := unit.Length(share * float64(r.Board.Square))
		for _, k := range r.Pieces.Kinds().All() {
			m := r.Pieces.Of(k)
			m.Base = base
		}
	}
}

// Many positions from games, one move each, with bases from slim to broad and
// pieces askew: no plan may be doubted, and beside the plain rule the planner
// must do at least as much.
func TestManyMovesBesideThePlainRule(t *testing.T) {
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	rnd := seeded(t, 8)
	n := 200
	if long() {
		n = 10000
	}
	turns := turnsFromGames(t, rnd, n)
	for _, base := range []float64{0.30, 0.40, 0.45, 0.60} {
		p := planner(t, withBases(base))
		var c tally
		for _, u := range turns {
			c.try(t, p, p.scene(&u.pos, rnd, 0.12), u)
		}
		slices.Sort(c.took)
		t.Logf("base %.2f: of %d moves %d carried at once, %d with pieces stepping aside, %d after a piece was set straight, %d asked for; "+
			"plain rule %d; %d with a clear path but no lane; carry over the time of the shortest clear path driven likewise: %s; over a bare S-curve as long, without corners and lead: %s; planning (one core) median %v, 99 %% %v, most %v",
			base, n, c.carried, c.aside, c.straight, c.asked, c.plain, c.shut, spreadOf(c.over), spreadOf(c.bare),
			c.took[n/2], c.took[n*99/100], c.took[n-1])
		if long() && (c.took[n/2] > 3*time.Millisecond || c.took[n*99/100] > 25*time.Millisecond) {
			t.Errorf("base %.2f: planning takes %v in the middle and %v at 99 %%, at most 3 ms and 25 ms are wanted", base, c.took[n/2], c.took[n*99/100])
		}
		if c.doubt > 0 {
			t.Errorf("base %.2f: %d plans doubted", base, c.doubt)
		}
		if c.carried+c.aside+c.straight < c.plain {
			t.Errorf("base %.2f: the plain rule carries %d moves, the planner %d", base, c.plain, c.carried+c.aside+c.straight)
		}
		if beyond(c.over, 1) > 15 || beyond(c.bare, 0.99) > 100.0/6 || c.shut > 0 { // corners as such cost up to a sixth
			t.Errorf("base %.2f: a carry takes too long, or %d find no lane", base, c.shut)
		}
	}
}

// spreadOf is by how many per cent carries take longer.
func spreadOf(ratios []float64) string {
	return fmt.Sprintf("%.1f %% in the middle, %.1f %% at 90 %%, %.1f %% at 99 %%, %.1f %% at most", beyond(ratios, 0.5), beyond(ratios, 0.9), beyond(ratios, 0.99), beyond(ratios, 1))
}

// beyond is by how many per cent a share of the carries stays within.
func beyond(ratios []float64, share float64) float64 {
	slices.Sort(ratios)
	return 100 * (ratios[int(share*float64(len(ratios)-1))] - 1)
}

// busy is the processor time of this thread so far: what planning costs one
// core, however busy the machine is with other things.
func busy() time.Duration {
	var t unix.Timespec
	if unix.ClockGettime(unix.CLOCK_THREAD_CPUTIME_ID, &t) != nil {
		return 0
	}
	return time.Duration(t.Nano())
}

func (c *tally) try(t *testing.T, p *Planner, s Scene, u turn) {
	t.Helper()
	began := busy()
	plan, err := p.Move(context.Background(), s, u.pos, u.move)
	c.took = append(c.took, busy()-began)
	if err != nil {
		t.Fatalf("%s %v: %v", u.pos.FEN(), u.move, err)
	}
	if plan.Doubt != "" {
		c.doubt++
		t.Errorf("%s %v: %s", u.pos.FEN(), u.move, plan.Doubt)
		return
	}
	straight, moved := false, false
	for _, step := range plan.Steps {
		if step.Do == Ask && step.From < chess.NoSquare && step.To < chess.NoSquare {
			straight = straight || step.From == step.To
			moved = moved || step.From != step.To
		}
	}
	switch {
	case moved:
		c.asked++
	case straight:
		c.straight++
	case plan.Asides > 0:
		c.aside++
	default:
		c.carried++
	}
	d := p.builder(s)
	if _, sq := u.pos.Captured(u.move); sq < chess.NoSquare {
		d.remove(d.on(sq))
	}
	if !u.pos.IsCastling(u.move) && d.plainRule(u.move) {
		c.plain++
	}
	c.compare(d, u)
}

// compare takes the time of the planned carry over that of the shortest path
// that is clear for the two bases, and for the magnet beside pieces that must stay.
func (c *tally) compare(d *builder, u turn) {
	i, to := d.on(u.move.From()), d.p.Centre(u.move.To())
	l := d.p.limits
	w, clear := d.p.bareField(d.pieces, i).Shortest(d.pieces[i].At, to)
	h, ok := d.transport(i, to)
	if clear && !ok {
		c.shut++
	}
	if clear && ok {
		c.over = append(c.over, h.time/l.dragTime(w))
		c.bare = append(c.bare, h.time/trajectory.HopAlong(w.Length, trajectory.Over(w.Points, l.Carry)))
	}
}

// plainRule says whether the common rule carries the move: straight where
// nothing stands in the way, else out to the edge of the square on the side
// away from the board's rim, along the edges, and in again. Common practice,
// no source.
func (d *builder) plainRule(m chess.Move) bool {
	i := d.on(m.From())
	f := d.p.carryField(d.pieces, i)
	from, to, half := d.pieces[i].At, d.p.Centre(m.To()), d.p.side/2
	home := d.p.Centre(m.From())
	ex, ey := home.X-math.Copysign(half, home.X), to.Y-math.Copysign(half, to.Y)
	for _, path := range [][]lanes.Spot{
		{from, to},
		{from, {X: ex, Y: from.Y}, {X: ex, Y: ey}, {X: to.X, Y: ey}, to},
	} {
		if f.Measure(path).Spare >= -near {
			return true
		}
	}
	return false
}

// A piece that is wider above than at its base keeps others away by that width.
func TestWideTopsKeepTheirRoom(t *testing.T) {
	r := rig.Default()
	r.Pieces.Of(chess.Knight).Top = unit.MM(21)
	b := boardOf(r, r.Board.Squares())
	if b.Base[chess.Knight] != 0.021 || b.Base[chess.King] != float64(r.Pieces.Of(chess.King).Base) {
		t.Errorf("%v", b.Base)
	}
}
