package carry

import (
	"fmt"
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/lanes"
)

// This file judges plans. It shares no geometry with the planner: distances
// are worked out here afresh, and the man's path is not believed but followed
// behind the magnet.

// What the judge lets pass, metres.
const (
	judgeSlack  = 100e-6 // arcs as polylines (10 µm) with few corners (20 µm), those rounded (50 µm), chords between stamps (10 µm), following in steps
	judgeStep   = 0.2e-3 // of the magnet, when following the man behind it
	judgeJoint  = 1e-6   // between the end of one path and the start of the next
	judgeCentre = 0.15   // of a square: how far off centre a placed man may end
)

// judge replays a plan.
type judge struct {
	p      *Planner
	men    []Man
	at     lanes.Spot
	held   int // index of the gripped man, −1: none
	moved  []bool
	clock  float64      // seconds since the plan began
	driven []lanes.Spot // stamp by stamp: the carriage's places in the present step
	trail  []lanes.Spot // and the held man's
	number int
}

// Check replays the plan in the scene and reports the first thing that would
// go wrong, with its time: a foot touching another, a neighbour dragged, a
// path out of reach, a man not where the next step expects it.
func (p *Planner) Check(s Scene, plan Plan) error {
	_, err := p.replay(s, plan)
	return err
}

// CheckTo checks the plan and that it ends in the given position.
func (p *Planner) CheckTo(s Scene, plan Plan, after *chess.Position) error {
	j, err := p.replay(s, plan)
	if err != nil {
		return err
	}
	return j.ends(after)
}

func (p *Planner) replay(s Scene, plan Plan) (*judge, error) {
	j := &judge{p: p, men: append([]Man(nil), s.Men...), at: s.Carriage, held: -1, moved: make([]bool, len(s.Men))}
	for n, step := range plan.Steps {
		j.number = n + 1
		if err := j.step(step); err != nil {
			return j, fmt.Errorf("step %d (%s), %.2f s: %w", n+1, step.Do, j.clock, err)
		}
		j.clock += float64(step.Time)
	}
	if j.held >= 0 {
		return j, fmt.Errorf("the plan ends with the %v still held", j.men[j.held].Piece)
	}
	return j, nil
}

func (j *judge) step(s Step) error {
	switch s.Do {
	case Travel:
		return j.travel(s)
	case Grip:
		return j.grip(s)
	case Carry:
		return j.carry(s)
	case Release:
		return j.release()
	case Ask:
		return j.askedAll(s)
	}
	return fmt.Errorf("unknown step %q", s.Do)
}

func (j *judge) travel(s Step) error {
	if j.held >= 0 {
		return fmt.Errorf("travel with the %v still held", j.men[j.held].Piece)
	}
	if err := j.drive(s, j.p.limits.Travel); err != nil {
		return err
	}
	for k := range j.men {
		if err := j.undisturbed(k, s, j.p.limits.LoweredPass, 0); err != nil {
			return err
		}
	}
	return nil
}

// undisturbed says whether standing man k keeps still while the magnet passes.
func (j *judge) undisturbed(k int, s Step, safe, spread float64) error {
	m := j.men[k]
	if !m.Magnet || safe == 0 {
		return nil
	}
	place := j.p.limits.Placement
	need := safe + math.Sqrt(spread*spread+place*place+4*m.Sigma*m.Sigma)
	first, last := s.Path[0], s.Path[len(s.Path)-1]
	need = math.Min(need, math.Min(gapBetween(m.At, first), gapBetween(m.At, last))-j.p.limits.Lag)
	d, when := closest(j.driven, m.At)
	if d < need-judgeSlack {
		return fmt.Errorf("at %.2f s the magnet passes the %v on %v at %.2f mm: it would be dragged, %.2f mm is safe",
			j.clock+s.moment(when), m.Piece, m.Square, d*1e3, need*1e3)
	}
	return nil
}

func (j *judge) grip(s Step) error {
	if j.held >= 0 {
		return fmt.Errorf("grip while the %v is held", j.men[j.held].Piece)
	}
	for k, m := range j.men {
		if m.Piece == s.Piece && gapBetween(m.At, j.at) <= judgeJoint {
			if !m.Magnet {
				return fmt.Errorf("the %v on %v holds no magnet", m.Piece, m.Square)
			}
			j.held = k
			return nil
		}
	}
	return fmt.Errorf("no %v stands over the carriage at %s", s.Piece, mm(j.at))
}

func (j *judge) release() error {
	if j.held < 0 {
		return fmt.Errorf("nothing is held")
	}
	j.held = -1
	return nil
}

func (j *judge) carry(s Step) error {
	if j.held < 0 {
		return fmt.Errorf("nothing is held")
	}
	l := j.p.limits
	if err := j.drive(s, l.Carry); err != nil {
		return err
	}
	if err := j.follows(s); err != nil {
		return err
	}
	for k := range j.men {
		if k == j.held {
			continue
		}
		if err := j.untouched(k, s); err != nil {
			return err
		}
		if err := j.undisturbed(k, s, l.SafePass, l.SafeSpread); err != nil {
			return err
		}
	}
	return j.put(s)
}

// follows drags the held man behind the magnet by the lag and compares where
// it goes with where the plan says.
func (j *judge) follows(s Step) error {
	p, lag := j.men[j.held].At, j.p.limits.Lag
	if len(s.PiecePath) < 2 || gapBetween(s.PiecePath[0], p) > judgeJoint {
		return fmt.Errorf("the man's path does not start at the man, %s", mm(p))
	}
	j.trail = append(j.trail[:0], p)
	for i := 1; i < len(j.driven); i++ {
		a, b := j.driven[i-1], j.driven[i]
		n := int(gapBetween(a, b)/judgeStep) + 1
		for k := 1; k <= n; k++ {
			t := float64(k) / float64(n)
			cx, cy := a.X+t*(b.X-a.X), a.Y+t*(b.Y-a.Y)
			if d := math.Hypot(cx-p.X, cy-p.Y); d > lag {
				p.X, p.Y = cx+(p.X-cx)*lag/d, cy+(p.Y-cy)*lag/d
			}
			if d, _ := closest(s.PiecePath, p); d > judgeSlack {
				return fmt.Errorf("the man strays %.2f mm from its path near %s", d*1e3, mm(p))
			}
		}
		j.trail = append(j.trail, p)
	}
	if end := s.PiecePath[len(s.PiecePath)-1]; gapBetween(p, end) > j.p.limits.LagSpread+judgeSlack {
		return fmt.Errorf("the man ends at %s, not at %s", mm(p), mm(end))
	}
	return nil
}

// untouched says whether the held man's foot clears standing man k all along.
func (j *judge) untouched(k int, s Step) error {
	held, m, l := j.men[j.held], j.men[k], j.p.limits
	feet := held.Foot/2 + m.Foot/2
	need := feet + math.Sqrt(l.Placement*l.Placement+l.LagSpread*l.LagSpread+4*m.Sigma*m.Sigma)
	if m.Magnet {
		need = math.Max(need, l.Apart) // two foot magnets push each other
	}
	start := gapBetween(m.At, held.At)
	end := gapBetween(m.At, s.PiecePath[len(s.PiecePath)-1])
	need = math.Max(math.Min(need, math.Min(start, end)), math.Min(start, feet))
	d, when := closest(j.trail, m.At)
	if d < need-judgeSlack {
		return fmt.Errorf("at %.2f s the %v passes the %v on %v with %.2f mm between the feet; %.2f mm is needed",
			j.clock+s.moment(when), held.Piece, m.Piece, m.Square, (d-feet)*1e3, (need-feet)*1e3)
	}
	return nil
}

// put sets the held man down where its path ends.
func (j *judge) put(s Step) error {
	end := s.PiecePath[len(s.PiecePath)-1]
	r := j.p.limits.Sheet
	if end.X < r.Min.X-judgeJoint || end.X > r.Max.X+judgeJoint || end.Y < r.Min.Y-judgeJoint || end.Y > r.Max.Y+judgeJoint {
		return fmt.Errorf("the man would end off the sheet at %s", mm(end))
	}
	m := &j.men[j.held]
	m.At, m.Square, m.Sigma = end, s.To, j.p.limits.arrival()
	j.moved[j.held] = true
	return nil
}
