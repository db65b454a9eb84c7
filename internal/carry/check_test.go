package carry

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/lanes"
)

// sound is a plan for a knight between its neighbours, with its scene.
func sound(t *testing.T) (*Planner, Scene, Plan, chess.Position) {
	t.Helper()
	p := planner(t, nil)
	pos := position(t, "rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 1")
	m, err := pos.ParseUCI("g8f6")
	if err != nil {
		t.Fatal(err)
	}
	s := p.scene(&pos, nil, 0)
	plan, err := p.Move(context.Background(), s, pos, m)
	if err != nil || plan.Doubt != "" {
		t.Fatal(err, plan.Doubt)
	}
	return p, s, plan, pos.After(m)
}

func carryOf(plan *Plan) *Step {
	i := slices.IndexFunc(plan.Steps, func(s Step) bool { return s.Do == Carry })
	return &plan.Steps[i]
}

// moveOver shifts all but the first and last two places of a path.
func moveOver(path []lanes.Spot, by lanes.Spot) []lanes.Spot {
	out := slices.Clone(path)
	for i := 1; i < len(out)-2; i++ {
		out[i] = out[i].Add(by)
	}
	return out
}

// Each way of spoiling a sound plan is found, for its own reason.
// spoiling is one way to make a sound plan wrong, and what must be said of it.
type spoiling struct {
	name, want string
	spoil      func(p *Planner, s *Scene, plan *Plan)
}

// spoiltWays are faults of where men, magnet and carriage go.
func spoiltWays() []spoiling {
	return []spoiling{
		{"nothing spoilt", "", func(*Planner, *Scene, *Plan) {}},
		{"the way shifted into a neighbour", "passes the", func(p *Planner, s *Scene, plan *Plan) {
			k := carryOf(plan)
			path := moveOver(k.PiecePath, lanes.Spot{X: -0.006})
			k.PiecePath, k.Path = path, lead(path, p.limits.Lag, p.limits.Settle)
			k.Time *= 2
		}},
		{"a man measured elsewhere in the way", "between the feet", func(p *Planner, s *Scene, plan *Plan) {
			k := carryOf(plan)
			mid := k.PiecePath[len(k.PiecePath)/2]
			for i := range s.Men {
				if s.Men[i].Square == chess.SquareAt(5, 6) {
					s.Men[i].At = mid.Add(lanes.Spot{X: -0.013})
					s.Men[i].Magnet = false
				}
			}
		}},
		{"a magnetised man nearer than is safe", "dragged", func(p *Planner, s *Scene, plan *Plan) {
			for i := range s.Men {
				s.Men[i].Foot = 0.001
			}
			k := carryOf(plan)
			mid := k.PiecePath[len(k.PiecePath)/2]
			for i := range s.Men {
				if s.Men[i].Square == chess.SquareAt(5, 6) {
					s.Men[i].At = mid.Add(lanes.Spot{X: -0.013})
				}
			}
			p.limits.Apart = 0
		}},
		{"no lead: the man would trail behind", "the man ", func(p *Planner, s *Scene, plan *Plan) {
			k := carryOf(plan)
			k.Path = slices.Clone(k.PiecePath)
		}},
		{"corners cut", "strays", func(p *Planner, s *Scene, plan *Plan) {
			k := carryOf(plan)
			k.Path = []lanes.Spot{k.Path[0], {X: k.Path[0].X, Y: k.PiecePath[len(k.PiecePath)-1].Y}, k.Path[len(k.Path)-1]}
			plan.Steps[len(plan.Steps)-1].Time = 1
			k.Time *= 2
		}},
		{"the carriage jumps", "the carriage is at", func(p *Planner, s *Scene, plan *Plan) { s.Carriage.X += 0.01 }},
		{"beyond the reach", "reach", func(p *Planner, s *Scene, plan *Plan) {
			plan.Steps[0].Path = slices.Insert(slices.Clone(plan.Steps[0].Path), 1, lanes.Spot{X: 1})
			plan.Steps[0].Time = 60
		}},
	}
}

// spoiltSteps are faults of the steps themselves.
func spoiltSteps() []spoiling {
	return []spoiling{
		{"too fast", "beyond the limits", func(p *Planner, s *Scene, plan *Plan) { carryOf(plan).Speed *= 2 }},
		{"too short a time", "too short", func(p *Planner, s *Scene, plan *Plan) { carryOf(plan).Time /= 10 }},
		{"nothing gripped", "nothing is held", func(p *Planner, s *Scene, plan *Plan) {
			plan.Steps = slices.DeleteFunc(slices.Clone(plan.Steps), func(s Step) bool { return s.Do == Grip })
		}},
		{"never released", "still held", func(p *Planner, s *Scene, plan *Plan) {
			plan.Steps = slices.DeleteFunc(slices.Clone(plan.Steps), func(s Step) bool { return s.Do == Release })
		}},
		{"no magnet in the foot", "no magnet", func(p *Planner, s *Scene, plan *Plan) {
			for i := range s.Men {
				s.Men[i].Magnet = false
			}
		}},
		{"the wrong square named", "would hold", func(p *Planner, s *Scene, plan *Plan) {
			k := carryOf(plan)
			k.To = chess.SquareAt(7, 5)
			k.PiecePath = slices.Clone(k.PiecePath)
		}},
		{"half the plan", "would hold", func(p *Planner, s *Scene, plan *Plan) { plan.Steps = nil }},
	}
}

func TestCheckerFindsWhatIsSpoilt(t *testing.T) {
	for _, c := range append(spoiltWays(), spoiltSteps()...) {
		p, s, plan, after := sound(t)
		c.spoil(p, &s, &plan)
		err := p.CheckTo(s, plan, &after)
		switch {
		case c.want == "" && err != nil:
			t.Errorf("%s: %v", c.name, err)
		case c.want != "" && err == nil:
			t.Errorf("%s: not found", c.name)
		case c.want != "" && !strings.Contains(err.Error(), c.want) && !strings.Contains(err.Error(), "off the middle"):
			t.Errorf("%s: found for another reason: %v", c.name, err)
		}
	}
}

// The exact distance from a polyline is what walking along it in fine steps
// finds.
func TestClosestIsExact(t *testing.T) {
	rnd := seeded(t, 12)
	spot := func() lanes.Spot { return lanes.Spot{X: rnd.Float64(), Y: rnd.Float64()} }
	for range 200 {
		path := []lanes.Spot{spot(), spot(), spot(), spot()}
		c := spot()
		got, share := closest(path, c)
		want := math.Inf(1)
		for i := 0; i+1 < len(path); i++ {
			for k := range 2001 {
				f := float64(k) / 2000
				q := lanes.Spot{X: path[i].X + f*(path[i+1].X-path[i].X), Y: path[i].Y + f*(path[i+1].Y-path[i].Y)}
				want = math.Min(want, q.Distance(c))
			}
		}
		if got > want+1e-12 || got < want-1e-3 || share < 0 || share > 1 {
			t.Fatalf("closest %v at %v, walking finds %v", got, share, want)
		}
	}
}

// A man dragged behind a magnet on a circle ends on the smaller circle that
// the tractrix leads to: radius √(R² − lag²).
func TestLeadFollowsTheTractrix(t *testing.T) {
	p := planner(t, nil)
	const r = 0.02
	lag := p.limits.Lag
	var path []lanes.Spot
	for k := range 121 {
		s, c := math.Sincos(float64(k) * math.Pi / 80)
		path = append(path, lanes.Spot{X: r * c, Y: r * s})
	}
	carriage := lead(path, lag, lag)
	for _, q := range carriage[10 : len(carriage)-4] {
		if d := math.Hypot(q.X, q.Y); math.Abs(d-math.Hypot(r, lag)) > 2e-5 {
			t.Fatalf("the magnet runs at %.3f mm, want %.3f mm", d*1e3, 1e3*math.Hypot(r, lag))
		}
	}
	j := &judge{p: p, men: []Man{{At: path[0]}}}
	if err := j.follows(Step{Path: carriage, PiecePath: path}); err != nil {
		t.Error(err)
	}
}
