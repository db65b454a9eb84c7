// SPDX-License-Identifier: Apache-2.0

package yield

import (
	"context"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"boardhand/internal/assess"
	"boardhand/internal/budget"
	"boardhand/internal/rig"
)

// turning is a way, from 0 to 1, on which a machine comes to fail one line.
type turning struct {
	line string
	turn func(r *rig.Rig, t float64)
}

func times[T ~float64](v *T, t float64) { *v *= T(t) }

func eachPiece(r *rig.Rig, do func(*rig.Piece)) {
	for _, k := range r.Pieces.Kinds().All() {
		do(r.Pieces.Of(k))
	}
}

var turnings = []turning{
	{"pull.hold", func(r *rig.Rig, t float64) { times(&r.Board.Thickness, 1+2.5*t) }},
	{"drag.slip", func(r *rig.Rig, t float64) {
		times(&r.Axis.X.Acceleration, 1+80*t)
		times(&r.Axis.Y.Acceleration, 1+80*t)
	}},
	{"drag.surge", func(r *rig.Rig, t float64) {
		times(&r.Axis.X.Acceleration, 1+60*t)
		times(&r.Axis.Y.Acceleration, 1+60*t)
		times(&r.Axis.X.Speed, 1+8*t)
		times(&r.Axis.Y.Speed, 1+8*t)
	}},
	{"drag.settle", func(r *rig.Rig, t float64) { times(&r.Board.Friction, 1+2*t); times(&r.Board.Kinetic, 1-0.6*t) }},
	{"neighbours.raised", func(r *rig.Rig, t float64) { times(&r.Lift.Diameter, 1+1.5*t); times(&r.Lift.Thickness, 1+1.5*t) }},
	{"neighbours.lowered", func(r *rig.Rig, t float64) { times(&r.Lift.Drop, 1-0.7*t) }},
	{"neighbours.feet", func(r *rig.Rig, t float64) {
		times(&r.Pieces.Magnet.Diameter, 1+t)
		times(&r.Pieces.Magnet.Thickness, 1+2*t)
		times(&r.Lift.Diameter, 1-0.4*t)
	}},
	{"lanes.foot", func(r *rig.Rig, t float64) { eachPiece(r, func(p *rig.Piece) { times(&p.Base, 1+0.6*t) }) }},
	{"tip.foot", func(r *rig.Rig, t float64) { eachPiece(r, func(p *rig.Piece) { times(&p.Base, 1-0.75*t) }) }},
	{"reach.field", func(r *rig.Rig, t float64) {
		times(&r.Axis.X.Travel, 1-0.4*t)
		r.Axis.X.Origin = r.Axis.X.Travel / 2
	}},
	{"reach.removal", func(r *rig.Rig, t float64) {
		times(&r.Axis.X.Travel, 1-0.4*t)
		r.Axis.X.Origin = r.Axis.X.Travel / 2
	}},
	{"lift.contact", func(r *rig.Rig, t float64) { times(&r.Lift.Preload, 1-t) }},
	{"board.pressed", func(r *rig.Rig, t float64) { times(&r.Lift.Preload, 1+10*t) }},
}

// nearLimit is a machine of chance near the limit of one line, and the line's judgement;
// false where the way has no limit for it.
func nearLimit(t *testing.T, base string, way turning, chance *rand.Rand) (*rig.Rig, assess.Check, bool) {
	friction, thick, heavy := 0.85+0.3*chance.Float64(), 0.85+0.3*chance.Float64(), 0.85+0.3*chance.Float64()
	build := func(at float64) *rig.Rig {
		r, err := rig.Parse("rig.toml", []byte(base), rig.Machine)
		if err != nil {
			t.Fatal(err)
		}
		times(&r.Board.Friction, friction)
		times(&r.Board.Kinetic, friction)
		times(&r.Board.Thickness, thick)
		eachPiece(r, func(p *rig.Piece) { times(&p.Mass, heavy) })
		way.turn(r, at)
		return r
	}
	line := slices.Index(assess.Lines(), way.line)
	judged := func(at float64) assess.Check { return assess.Begin(build(at), nil).Line(line) }
	lo, hi := 0.0, 1.0
	if c := judged(0); c.Verdict == assess.Fail || !c.Applies() || judged(1).Verdict != assess.Fail {
		return nil, assess.Check{}, false
	}
	for hi-lo > 0.003 {
		if m := (lo + hi) / 2; judged(m).Verdict == assess.Fail {
			hi = m
		} else {
			lo = m
		}
	}
	at := hi * (0.85 + 0.25*chance.Float64())
	return build(at), judged(at), true
}

// class is the verdict that a reserve calls for: 19 of 20 builds, 99 of 100.
func class(sigmas float64) assess.Verdict {
	switch {
	case sigmas < 1.645:
		return assess.Fail
	case sigmas < 2.326:
		return assess.Warn
	}
	return assess.Pass
}

// counted is the reserve by the share of builds that work, as far as so many can tell.
func counted(l Line) float64 {
	n := float64(l.Judged)
	return math.Sqrt2 * math.Erfinv(2*min(max(l.Works, 0.5/n), 1-0.5/n)-1)
}

// What assess says of a machine near a limit is what its builds say: the reserve of a line,
// which assess reckons with, is that by which they are counted. Assess may be half a standard
// deviation too kind and one too strict: it takes the worst of lags and gaps at once where
// builds have one of each. In the long run there are two hundred machines.
func TestVerdictsAgreeWithBuilds(t *testing.T) {
	const kind, strict = 0.5, 1.0
	rounds, builds := 1, 200
	if os.Getenv("BOARDHAND_LONG") == "1" {
		rounds, builds = 16, 400
	}
	var bases []string
	for _, name := range []string{"club", "pocket"} {
		text, err := os.ReadFile("../../examples/" + name + "/rig.toml")
		if err != nil {
			t.Fatal(err)
		}
		bases = append(bases, string(text))
	}
	bases = append(bases, rig.DefaultText)
	for w, way := range turnings {
		chance := rand.New(rand.NewPCG(5, 3)) // each line has its machines, whatever the others say
		n, same := 0, 0
		var most, least float64
		for k := range rounds {
			r, c, ok := nearLimit(t, bases[(w+k)%len(bases)], way, chance)
			if !ok {
				continue
			}
			l, ok := builtLine(t, r, way.line, builds)
			if !ok || math.Abs(l.Works-0.5) > 0.4985 {
				continue // so many builds do not tell its reserve
			}
			n++
			off := c.Sigmas - counted(l)
			same += b2i(class(counted(l)) == c.Verdict)
			most, least = max(most, off), min(least, off)
			if off > kind+tells(l) || off < -strict-tells(l) {
				t.Errorf("%s: %s with %.2f standard deviations (value %.4g, limit %.4g); of %d builds %.1f %% work, %.2f", way.line, c.Verdict, c.Sigmas, c.Value, c.Limit, l.Judged, 100*l.Works, counted(l))
			}
		}
		t.Logf("%-20s %2d machines near its limit, %2d with the verdict that their builds call for; reserve off by %+.2f to %+.2f standard deviations", way.line, n, same, least, most)
	}
}

// tells is by how much the counted reserve may be off, two standard deviations: that of a
// share over the slope of the normal distribution there.
func tells(l Line) float64 {
	z := counted(l)
	return 2 * math.Sqrt(l.Works*(1-l.Works)/float64(l.Judged)) * math.Sqrt(2*math.Pi) * math.Exp(z*z/2)
}

// builtLine is what builds say of one line.
func builtLine(t *testing.T, r *rig.Rig, id string, builds int) (Line, bool) {
	b, err := budget.Of(r)
	if err != nil {
		t.Fatal(err)
	}
	m, err := Of(r, b)
	if err != nil {
		return Line{}, false
	}
	all, err := m.draw(context.Background(), Options{Builds: builds, Seed: 1, Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	i := slices.Index(m.ids, id)
	if i < 0 {
		return Line{}, false
	}
	l := m.line(i, all)
	return l, l.Judged > 0
}
