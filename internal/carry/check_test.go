// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"context"
	"slices"
	"strings"
	"testing"

	planning "boardhand/internal/carry/plan"
	"boardhand/internal/carry/trajectory"
	"boardhand/internal/chess"
	"boardhand/internal/lanes"
	"boardhand/internal/unit"
)

// sound is a plan for a knight who goes round a neighbour, with its scene.
func sound(t *testing.T) (*Planner, Scene, Plan, chess.Position) {
	t.Helper()
	p := planner(t, withBases(0.45))
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

// spoiltWays are faults of where pieces, magnet and carriage go.
func spoiltPaths() []spoiling {
	return []spoiling{
		{"nothing spoilt", "", func(*Planner, *Scene, *Plan) {}},
		{"the way shifted into a neighbour", "the ", func(p *Planner, s *Scene, plan *Plan) {
			k := carryOf(plan)
			k.Path = moveOver(k.Path, lanes.Spot{X: -0.006})
			k.PiecePath = trajectory.Trail(k.Path, p.limits.Limits)
			p.drivenAnew(k)
		}},
		{"a piece measured elsewhere in the way", "between the bases", func(p *Planner, s *Scene, plan *Plan) {
			k := carryOf(plan)
			mid := k.PiecePath[len(k.PiecePath)/2]
			for i := range s.Pieces {
				if s.Pieces[i].Square == chess.SquareAt(5, 6) {
					s.Pieces[i].At = mid.Add(lanes.Spot{X: -0.013})
					s.Pieces[i].Magnet = false
				}
			}
		}},
		{"a magnetised piece nearer than is safe", "dragged", func(p *Planner, s *Scene, plan *Plan) {
			for i := range s.Pieces {
				s.Pieces[i].Base = 0.001
			}
			k := carryOf(plan)
			mid := k.PiecePath[len(k.PiecePath)/2]
			for i := range s.Pieces {
				if s.Pieces[i].Square == chess.SquareAt(5, 6) {
					s.Pieces[i].At = mid.Add(lanes.Spot{X: -0.013})
				}
			}
			p.limits.Apart = 0
		}},
		{"no lead: the piece would trail behind", "the piece ", func(p *Planner, s *Scene, plan *Plan) {
			k := carryOf(plan)
			k.Path = k.Path[:len(k.Path)-2]
			k.Path = append(slices.Clone(k.Path), k.PiecePath[len(k.PiecePath)-1])
			p.drivenAnew(k)
		}},
		{"corners cut", "strays", func(p *Planner, s *Scene, plan *Plan) {
			k := carryOf(plan)
			k.Path = []lanes.Spot{k.Path[0], {X: k.Path[0].X, Y: k.PiecePath[len(k.PiecePath)-1].Y}, k.Path[len(k.Path)-1]}
			p.drivenAnew(k)
		}},
		{"the carriage jumps", "the carriage is at", func(p *Planner, s *Scene, plan *Plan) { s.Carriage.X += 0.01 }},
		{"beyond the reach", "reach", func(p *Planner, s *Scene, plan *Plan) {
			plan.Steps[0].Path = slices.Insert(slices.Clone(plan.Steps[0].Path), 1, lanes.Spot{X: 1})
			plan.Steps[0].Time = 60
		}},
	}
}

// drivenAnew plans the drive of a step whose path was changed.
func (p *Planner) drivenAnew(s *Step) {
	*s = s.Driven(trajectory.Samples(s.Path, p.limits.Carry))
	s.Time = unit.Duration(s.Trajectory()[len(s.Trajectory())-1].Time)
}

// times is a drive with other limits in all directions.
func times(d planning.Drive, speed, accel, jerk float64) planning.Drive {
	for _, p := range []*planning.Bounds{&d.Most, &d.Axes[0], &d.Axes[1]} {
		p.Speed, p.Accel, p.Jerk = p.Speed*speed, p.Accel*accel, p.Jerk*jerk
	}
	return d
}

// spoiltRides are faults of how a path is driven.
func spoiltRides() []spoiling {
	quicker := func(p *Planner, s *Step, share float64) {
		*s = s.Driven(trajectory.Samples(s.Path, times(p.limits.Carry, share, share*share, share*share*share)))
		s.Time = unit.Duration(s.Trajectory()[len(s.Trajectory())-1].Time)
	}
	return []spoiling{
		{"all driven a twentieth faster", "are allowed", func(p *Planner, s *Scene, plan *Plan) { quicker(p, carryOf(plan), 1.05) }},
		{"an axis beyond its own speed", "axis y does", func(p *Planner, s *Scene, plan *Plan) {
			k, c := carryOf(plan), p.limits.Carry
			free := times(c, 2, 2, 2)
			free.Most = c.Most
			own := trajectory.Over(k.Path, free)
			k.Speed, k.Accel, k.Jerk = unit.Speed(own.Speed), unit.Acceleration(own.Accel), unit.Jerk(own.Jerk)
			*k = k.Driven(trajectory.Samples(k.Path, free))
			k.Time = unit.Duration(k.Trajectory()[len(k.Trajectory())-1].Time)
		}},
		{"full acceleration at once", "acceleration changes", func(p *Planner, s *Scene, plan *Plan) {
			k := carryOf(plan)
			*k = k.Driven(trajectory.Samples(k.Path, times(p.limits.Carry, 1, 1, 100)))
			k.Time = unit.Duration(k.Trajectory()[len(k.Trajectory())-1].Time)
		}},
		{"corners not rounded", "takes a corner", func(p *Planner, s *Scene, plan *Plan) { p.unrounded(carryOf(plan)) }},
		{"rounded too much", "ride leaves its path", func(p *Planner, s *Scene, plan *Plan) {
			k := carryOf(plan)
			c := p.limits.Carry
			whole := trajectory.Samples([]lanes.Spot{k.Path[0], k.Path[len(k.Path)-1]}, planning.Drive{Most: c.Axes[0], Axes: c.Axes})
			*k = k.Driven(whole)
			k.Time = unit.Duration(whole[len(whole)-1].Time)
		}},
		{"a jump", "jumps", func(p *Planner, s *Scene, plan *Plan) {
			k := carryOf(plan)
			trajectory := slices.Clone(k.Trajectory())
			trajectory[9].At = trajectory[30].At
			*k = k.Driven(trajectory)
		}},
		{"a gap", "gap", func(p *Planner, s *Scene, plan *Plan) {
			k := carryOf(plan)
			*k = k.Driven(slices.Delete(slices.Clone(k.Trajectory()), 20, 40))
		}},
		{"no ride", "how the path is driven", func(p *Planner, s *Scene, plan *Plan) { k := carryOf(plan); *k = k.Driven(nil) }},
	}
}

// unrounded drives the bare polyline as if it had no corners.
func (p *Planner) unrounded(s *Step) {
	flat := trajectory.Samples([]lanes.Spot{{}, {X: lengthOf(s.Path)}}, p.limits.Carry)
	for i := range flat {
		flat[i].At = placeAlong(s.Path, flat[i].Along)
	}
	*s = s.Driven(flat)
	s.Time = unit.Duration(flat[len(flat)-1].Time)
}

// placeAlong is the place s metres along a polyline.
func placeAlong(path []lanes.Spot, s float64) lanes.Spot {
	for i := 1; i < len(path); i++ {
		l := path[i].Distance(path[i-1])
		if s <= l {
			return path[i-1].Add(path[i].Sub(path[i-1]).Scale(s / l))
		}
		s -= l
	}
	return path[len(path)-1]
}

// spoiltSteps are faults of the steps themselves.
func spoiltSteps() []spoiling {
	return []spoiling{
		{"too fast", "beyond the limits", func(p *Planner, s *Scene, plan *Plan) { carryOf(plan).Speed *= 2 }},
		{"too short a time", "the ride takes", func(p *Planner, s *Scene, plan *Plan) { carryOf(plan).Time /= 10 }},
		{"nothing gripped", "nothing is held", func(p *Planner, s *Scene, plan *Plan) {
			plan.Steps = slices.DeleteFunc(slices.Clone(plan.Steps), func(s Step) bool { return s.Do == Grip })
		}},
		{"never released", "still held", func(p *Planner, s *Scene, plan *Plan) {
			plan.Steps = slices.DeleteFunc(slices.Clone(plan.Steps), func(s Step) bool { return s.Do == Release })
		}},
		{"no magnet in the base", "no magnet", func(p *Planner, s *Scene, plan *Plan) {
			for i := range s.Pieces {
				s.Pieces[i].Magnet = false
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
	for _, c := range slices.Concat(spoiltPaths(), spoiltRides(), spoiltSteps()) {
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
