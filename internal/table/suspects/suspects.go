// SPDX-License-Identifier: Apache-2.0

// Package suspects keeps what went wrong at one machine, game after game, for the
// diagnosis to name the part at fault.
package suspects

import (
	"errors"
	"fmt"
	"maps"
	"slices"

	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/diagnosis"
	"boardhand/internal/motion"
	"boardhand/internal/rig"
	"boardhand/internal/table/model"
	"boardhand/internal/table/places"
)

// Suspects gathers what goes wrong at one machine, game after game, to name
// the part at fault. A nil *Suspects suspects nothing.
type Suspects struct {
	machine *diagnosis.Case
	watch   diagnosis.Watch
	did     []diagnosis.Motion // since the board was last looked at
	judged  []diagnosis.Motion // of the same plan, before that, with who was seen in between
	before  diagnosis.Scene    // where each piece was seen last
	astray  diagnosis.Scene    // the pieces lost on their way since, where they were seen
	told    map[string]bool
	isWide  bool                // the bases were measured in this session
	fresh   []diagnosis.Symptom // not on disk yet
}

// New opens a case for the machine of a rig file.
func New(r *rig.Rig) (*Suspects, error) {
	c, err := diagnosis.NewCase(r)
	if err != nil {
		return nil, err
	}
	return &Suspects{machine: c, watch: diagnosis.NewWatch(float64(r.Board.Square)), before: diagnosis.Scene{}, told: map[string]bool{}}, nil
}

// Recall takes up what an earlier session kept of this machine.
func (s *Suspects) Recall(kept []diagnosis.Symptom) {
	if s == nil {
		return
	}
	for _, y := range kept {
		s.machine.Add(y)
	}
}

// Fresh hands over the symptoms since it was last called, to be kept.
func (s *Suspects) Fresh() []diagnosis.Symptom {
	if s == nil {
		return nil
	}
	out := s.fresh
	s.fresh = nil
	return out
}

func (s *Suspects) add(y diagnosis.Symptom) {
	s.machine.Add(y)
	s.fresh = append(s.fresh, y)
}

// Begin notes how the board looks before a plan is carried out; seen are the
// pieces that were measured just now. A piece that no picture has measured stands
// about the middle of its square.
func (s *Suspects) Begin(b *model.Model, seen diagnosis.Scene) {
	if s == nil {
		return
	}
	s.did, s.judged, s.before = nil, nil, b.Measured()
	for p, is := range seen {
		s.before[p] = is
	}
	maps.Copy(s.before, s.astray)
	s.astray = nil
	for q, p := range b.Now.Board {
		if p == chess.NoPiece {
			continue
		}
		who := b.Identity(p, places.Place(q))
		if _, isMeasured := s.before[who]; !isMeasured {
			s.before[who] = diagnosis.Sighting{At: b.Layout.Centre(chess.Square(q)), Sigma: unmeasured * float64(b.Layout.Square), IsGuess: true}
		}
	}
}

// Note notes a step that the machine is about to do.
func (s *Suspects) Note(b *model.Model, step plan.Step) {
	if s == nil {
		return
	}
	m := diagnosis.Motion{Path: step.Path}
	switch step.Do {
	case plan.Travel:
		m.Act = diagnosis.Travel
	case plan.Grip, plan.Release:
		m.Act, m.Raised = diagnosis.Lift, step.Do == plan.Grip
	case plan.Carry:
		w := b.Way(step)
		m.Act, m.Piece, m.Hidden = diagnosis.Carry, b.Identity(step.Piece, w.From), w.To == places.Chute
		m.Beside = w.To >= places.Slot
		m.To = step.PiecePath[len(step.PiecePath)-1]
	default:
		return
	}
	s.did = append(s.did, m)
}

// Handed notes that a person moved a piece.
func (s *Suspects) Handed(b *model.Model, piece chess.Piece, from places.Place) {
	if s != nil && from >= 0 {
		s.judged = nil // who stands beside the way may have been touched
		s.did = append(s.did, diagnosis.Motion{Handed: b.Identity(piece, from)})
	}
}

// Look takes into account what a picture shows after what was done.
func (s *Suspects) Look(b *model.Model, after diagnosis.Scene) {
	if s == nil || len(s.did)+len(s.judged) == 0 {
		return
	}
	for _, y := range s.watch.Observe(s.judged, s.did, s.before, after) {
		s.add(y)
	}
	s.judged, s.did = slices.Concat(s.judged, s.did), nil
	for p := range after {
		s.judged = append(s.judged, diagnosis.Motion{Act: diagnosis.Look, Piece: p})
	}
	maps.Copy(s.before, after)
}

// Forget leaves what was done since the last look unjudged.
func (s *Suspects) Forget() {
	if s != nil {
		s.did, s.judged = nil, nil
	}
}

// Found notes where a piece was seen that was carried. Who stands beside its way is not
// looked at: the look that does is told of this carry too.
func (s *Suspects) Found(b *model.Model, w places.Way, at diagnosis.Sighting) {
	s.Look(b, diagnosis.Scene{b.Identity(w.Piece, w.From): at})
}

// Detections tells which pieces single places of the last picture show.
type Detections func() []diagnosis.Detection

// Slipped notes where a piece of the machine's move was found, and what became
// of all others.
func (s *Suspects) Slipped(b *model.Model, w places.Way, at diagnosis.Sighting, seen Detections) {
	if s == nil {
		return
	}
	after, who := s.scattered(b, seen), b.Identity(w.Piece, w.From)
	if _, isSeen := after[who]; !isSeen {
		after[who] = at
	}
	s.Look(b, after)
	s.astray = diagnosis.Scene{who: after[who]}
}

// Disorder notes where the pieces are in a picture that no move explains, before
// a person sets them right.
func (s *Suspects) Disorder(b *model.Model, seen Detections) {
	if s != nil && len(s.did)+len(s.judged) > 0 {
		s.Look(b, s.scattered(b, seen))
	}
}

// scattered is where the pieces are that were on the board before the machine
// moved, whatever move may explain the picture.
func (s *Suspects) scattered(b *model.Model, seen Detections) diagnosis.Scene {
	goals := map[diagnosis.Piece]diagnosis.Spot{}
	for _, m := range slices.Concat(s.judged, s.did) {
		if m.Act == diagnosis.Carry {
			goals[m.Piece] = m.To
		}
	}
	return diagnosis.Match(float64(b.Layout.Square), s.before, goals, seen())
}

// Missed notes that a piece was seen nowhere.
func (s *Suspects) Missed(b *model.Model) { s.Look(b, diagnosis.Scene{}) }

// Camera notes that a picture came, none came, or the same again.
func (s *Suspects) Camera(is diagnosis.Outcome) {
	if s != nil {
		s.add(diagnosis.Symptom{Act: diagnosis.Look, Outcome: is})
	}
}

// Bases notes how many times as wide as told the bases of the pieces look.
func (s *Suspects) Bases(factor float64) {
	if s != nil && factor > 1 && !s.isWide {
		s.isWide = true
		s.add(diagnosis.Symptom{Act: diagnosis.Look, Outcome: diagnosis.WideBases, Amount: factor})
	}
}

// Drove notes what the gantry says of a step. A lag is no failure: the stroke
// ended where it should. What the wire spoilt, and whatever else broke a motion off, tells
// nothing of what was to be carried: what was done since the last look stays unjudged.
func (s *Suspects) Drove(step plan.Step, err error) error {
	var lag *motion.Lag
	var stall *motion.Stall
	var spoilt *motion.Spoilt
	y := diagnosis.Symptom{Act: acts[step.Do], Path: step.Path, Raised: step.Do == plan.Grip}
	isLag := errors.As(err, &lag)
	switch {
	case errors.As(err, &spoilt):
		y.Outcome = diagnosis.BrokenOff
		s.Forget()
	case isLag:
		y.Outcome, y.Axis, y.Amount = diagnosis.Lagged, lag.Axis, float64(lag.Behind)
	case errors.As(err, &stall):
		y.Outcome, y.Axis = diagnosis.Stalled, stall.Axis
	default:
		if err != nil {
			s.Forget()
		}
		return err
	}
	if s != nil {
		s.add(y)
	}
	if isLag {
		return nil
	}
	return err
}

// acts are what steps are to the diagnosis.
var acts = map[plan.Do]diagnosis.Act{plan.Travel: diagnosis.Travel, plan.Carry: diagnosis.Carry, plan.Grip: diagnosis.Lift, plan.Release: diagnosis.Lift}

// IsUseless says whether it is useless to carry the piece of a name.
func (s *Suspects) IsUseless(name string) bool { return s != nil && s.machine.Hopeless(name) }

// News lists the parts that are named and were not told yet.
func (s *Suspects) News() (out []diagnosis.Finding) {
	if s == nil {
		return nil
	}
	for _, f := range s.machine.Named() {
		key := fmt.Sprint(f.Cause, f.Piece, f.Axis)
		if !s.told[key] {
			s.told[key] = true
			out = append(out, f)
		}
	}
	return out
}
