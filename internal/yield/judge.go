// SPDX-License-Identifier: Apache-2.0

package yield

import (
	"math"

	"boardhand/internal/axes"
	"boardhand/internal/budget"
	"boardhand/internal/coupling"
	"boardhand/internal/drag"
	"boardhand/internal/unit"
)

// open is the margin of a line that cannot be judged of a build, since the magnet does
// not move a piece of it.
var open = math.NaN()

// bench judges builds, one after the other; each worker has its own.
type bench struct {
	*Model
	far, near, low profile
	farGap         unit.Length
	nearGap        unit.Length
	lowGap         unit.Length
	at             []stand
	held, dragged  []int // the pieces that are hardest to move, and easiest
	both           [2]drag.Stand
}

// stand is one piece with a magnet over the drive magnet: its mass over the strength of
// its pair, so that one table does for all.
type stand struct {
	drag.Stand
	strength float64 // of its pair over that of the table
	of       *piece
}

// margins judges a build: one number a line, positive where it works, in the line's unit.
func (b *bench) margins(x *build, into []float64) []float64 {
	out := into[:direct]
	for i := range out {
		out[i] = open
	}
	if err := b.set(x); err != nil {
		return b.rest(x, out)
	}
	b.grip(out)
	if out[hold] >= 0 {
		b.motion(x, out)
	}
	b.neighbours(x, out)
	b.room(x, out)
	return b.rest(x, out)
}

// rest adds the lines that go by their slopes.
func (b *bench) rest(x *build, out []float64) []float64 {
	for i := range b.slopes {
		out = append(out, b.slopes[i].of(x))
	}
	return out
}

// set puts a build on the bench: its gaps, and its pieces with magnets.
func (b *bench) set(x *build) (err error) {
	off := unit.Length(x.machine[budget.Gap])
	within := func(g unit.Length) unit.Length { return min(max(g+off, unit.Length(b.from)), unit.Length(b.to)) }
	b.nearGap, b.farGap = within(b.couple.Spread.Near), within(b.couple.Spread.Far)
	b.lowGap = within(unit.Length(b.deep))
	for _, p := range []struct {
		into *profile
		gap  unit.Length
		to   float64
	}{{&b.near, b.nearGap, b.beside}, {&b.far, b.farGap, b.beside}, {&b.low, b.lowGap, b.beside}} {
		if *p.into, err = newProfile(b.table, float64(p.gap), max(p.to, b.reach), p.into.of); err != nil {
			return err
		}
	}
	machine := (1 + x.machine[budget.RemanenceLift]) * (1 + x.machine[budget.RemanencePieces]) * (1 + x.machine[budget.Model])
	friction := 1 + x.machine[budget.Friction]
	b.at = b.at[:0]
	for i := range x.pieces {
		p := &x.pieces[i]
		if !p.hasMagnet {
			continue
		}
		d := &p.deviations
		s := b.couple.Stand(p.kind)
		strength := machine * (1 + d[budget.Discs])
		s.Mass *= unit.Mass((1 + d[budget.Mass]) / strength)
		share := friction * (1 + d[budget.Pads])
		s.Static, s.Kinetic = s.Static*share, s.Kinetic*share
		s.Reach = unit.Length(b.reach)
		b.at = append(b.at, stand{s, strength, p})
	}
	b.held = b.outermost(b.held[:0], 1)
	b.dragged = b.outermost(b.dragged[:0], -1)
	return nil
}

// outermost are the pieces that no other is beyond in mass over strength and in friction
// alike, upwards or downwards: all that depends on the two is worst for one of them.
func (b *bench) outermost(into []int, sign float64) []int {
	for i := range b.at {
		isBeaten := false
		for j := range b.at {
			m, f := sign*float64(b.at[j].Mass-b.at[i].Mass), sign*(b.at[j].Static-b.at[i].Static)
			if m >= 0 && f >= 0 && (m > 0 || f > 0 || j < i) {
				isBeaten = true
				break
			}
		}
		if !isBeaten {
			into = append(into, i)
		}
	}
	return into
}

// on puts a piece over a pull.
func (s stand) on(p profile, gap unit.Length) drag.Stand {
	st := s.Stand
	st.Pull, st.Gap = p, gap
	return st
}

// ends are a piece over the nearest and the farthest gap; one where a spring makes them one.
// They hold until the next call.
func (b *bench) ends(i int) []drag.Stand {
	b.both = [2]drag.Stand{b.at[i].on(b.near, b.nearGap), b.at[i].on(b.far, b.farGap)}
	if b.nearGap == b.farGap {
		return b.both[:1]
	}
	return b.both[:]
}

// grip judges pull.hold and drag.slip.
func (b *bench) grip(out []float64) {
	ratio, most := math.Inf(1), math.Inf(1)
	for _, i := range b.held {
		for _, st := range b.ends(i) {
			h, err := st.Best(st.Static)
			if err != nil {
				return
			}
			p, _ := st.Pull.At(float64(st.Gap), float64(h.Offset))
			friction := st.Static * st.Normal(p)
			ratio, most = min(ratio, (h.Net+friction)/friction), min(most, float64(h.Most))
		}
	}
	out[hold] = ratio - 1
	if ratio >= 1 {
		out[slip] = (most - float64(b.couple.Braking())) * 1e3
	}
}

// motion judges drag.surge, drag.settle, lanes.foot and tip.foot.
func (b *bench) motion(x *build, out []float64) {
	from := b.couple.Start()
	least := math.Inf(1)
	for _, i := range b.held {
		for _, st := range b.ends(i) {
			t, err := st.TearOff(from)
			if err != nil {
				return
			}
			least = min(least, float64(t.Off-t.At))
		}
	}
	out[surge] = least * 1e3
	off, err := b.off()
	if err != nil {
		return
	}
	out[settle] = (settleShare*float64(b.rig.Board.Square) - off - math.Abs(x.machine[budget.Placement])) * 1e3
	if stray, ok := b.stray(); ok {
		out[lanes] = (b.lane() - b.widest(x) - stray - b.errors(x)) * 1e3
	}
	out[tip] = b.upright() * 1e3
}

// off is how far from its square's middle a piece comes to rest at most, metres. A piece
// inside the outermost rests no farther off than they do but for its glue, so that few
// pieces need a look of their own.
func (b *bench) off() (float64, error) {
	most, bare := 0.0, 0.0
	for _, i := range append(b.held, b.dragged...) {
		rest, err := b.rests(i)
		if err != nil {
			return 0, err
		}
		bare = max(bare, rest)
		most = max(most, rest+b.glue(i))
	}
	for i := range b.at {
		if bare+b.glue(i) <= most {
			continue
		}
		rest, err := b.rests(i)
		if err != nil {
			return 0, err
		}
		most = max(most, rest+b.glue(i))
	}
	return most, nil
}

func (b *bench) glue(i int) float64 { return math.Abs(b.at[i].of.deviations[budget.Glue]) }

// rests is how far from where the machine plans it a piece's magnet comes to rest, metres.
func (b *bench) rests(i int) (most float64, err error) {
	for _, st := range b.ends(i) {
		t, err := st.Settle(b.couple.Braking())
		if err != nil {
			return 0, err
		}
		most = max(most, math.Abs(float64(t.Lead)-b.lead)+float64(t.Error))
	}
	return most, nil
}

// stray is how far a carried piece is off its planned way, metres.
func (b *bench) stray() (float64, bool) {
	most := 0.0
	for _, set := range [2][]int{b.held, b.dragged} {
		for _, i := range set {
			for _, st := range b.ends(i) {
				l, err := st.Lag(st.Kinetic, 0)
				if err != nil {
					return 0, false
				}
				most = max(most, math.Abs(float64(l)-b.lag))
			}
		}
	}
	return most, true
}

// errors of the carriage's place and of a standing piece's, metres. The way goes down the
// middle between two pieces as they are seen, so that of what a person left them off by
// half the difference counts: 1/√2 of one.
func (b *bench) errors(x *build) float64 {
	return math.Abs(x.machine[budget.Placement]) + math.Abs(x.machine[budget.Camera]) + math.Abs(x.machine[budget.Person])/math.Sqrt2
}

// widest is half of the two widest bases of a build together, metres.
func (b *bench) widest(x *build) float64 {
	first, second := 0.0, 0.0
	for i := range x.pieces {
		d := float64(b.rig.Pieces.Of(x.pieces[i].kind).Base) + x.pieces[i].deviations[budget.Base]
		if d > first {
			first, second = d, first
		} else {
			second = max(second, d)
		}
	}
	return (first + second) / 2
}

// upright is what the narrowest base of all has beyond the least that keeps it upright, metres.
func (b *bench) upright() float64 {
	least := math.Inf(1)
	t := (float64(b.nearGap) - float64(b.couple.Spread.Near)) / tipStep
	for i := range b.at {
		f := b.couple.Figure(b.at[i].of.kind)
		f.Mass = b.at[i].Mass
		var need [3]float64
		for j := range need {
			w, err := f.TipUnder(b.tips[j], b.couple.Braking())
			if err != nil {
				return open
			}
			need[j] = float64(w.Least)
		}
		at := need[1] + t*(need[2]-need[0])/2 + t*t*(need[2]-2*need[1]+need[0])/2
		has := float64(f.Base) + b.at[i].of.deviations[budget.Base]
		least = min(least, has-max(at, float64(b.rig.Pieces.Magnet.Diameter)))
	}
	return least
}

// neighbours judges neighbours.raised, neighbours.lowered and neighbours.feet.
func (b *bench) neighbours(x *build, out []float64) {
	safe, excess, pushed := 0.0, math.Inf(-1), 0.0
	share := (1 + x.machine[budget.RemanencePieces]) / (1 + x.machine[budget.RemanenceLift])
	for _, i := range b.dragged {
		for _, st := range b.ends(i) {
			st.Reach = unit.Length(b.beside)
			p, err := st.Neighbour(st.Static)
			if err != nil {
				return
			}
			safe = max(safe, float64(p.Safe))
		}
		st := b.at[i].on(b.low, b.lowGap)
		st.Reach = unit.Length(b.beside)
		p, err := st.Neighbour(st.Static)
		if err != nil {
			return
		}
		excess = max(excess, p.Excess*b.at[i].strength)
		away := b.pushes.Force(float64(b.rig.Board.Square))
		for _, st := range b.ends(i) {
			st.Pull, st.Reach = coupling.Passer{Puller: st.Pull, Foot: b.pushes, Times: share, Away: share * away}, unit.Length(b.beside)
			passing, err := st.Neighbour(st.Static)
			if err != nil {
				return
			}
			pushed = max(pushed, float64(passing.Safe))
		}
	}
	e := b.errors(x)
	out[raised] = (b.lane() - safe - e) * 1e3
	out[lowered] = -excess * 1e3
	out[feet] = (b.lane() - pushed - e) * 1e3
}

// room judges reach.field and reach.removal.
func (b *bench) room(x *build, out []float64) {
	field, removal := math.Inf(1), math.Inf(1)
	off := math.Abs(x.machine[budget.Placement]) + math.Abs(x.machine[budget.Field])
	for i, way := range axes.Ways(b.rig, unit.Length(b.lead)) {
		field = min(field, float64(way.Reach-axes.Outermost(b.rig, i))-b.lead-off)
		if way.Remove {
			removal = min(removal, float64(way.Reach-way.Need)-off)
		}
	}
	out[reachField] = field * 1e3
	if !math.IsInf(removal, 1) {
		out[reachRemoval] = removal * 1e3
	}
}
