// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"fmt"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/diagnosis"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
)

// Suspects gathers what goes wrong at one machine, game after game, to name
// the part at fault. A nil *Suspects suspects nothing.
type Suspects struct {
	machine *diagnosis.Case
	did     []diagnosis.Motion // since the board was last looked at
	before  diagnosis.Scene    // as it looked then
	told    map[string]bool
}

// NewSuspects opens a case for the machine of a rig file.
func NewSuspects(r *rig.Rig) (*Suspects, error) {
	c, err := diagnosis.NewCase(r)
	if err != nil {
		return nil, err
	}
	return &Suspects{machine: c, before: diagnosis.Scene{}, told: map[string]bool{}}, nil
}

// begin notes how the board looks before a plan is carried out.
func (s *Suspects) begin(t *Table) {
	if s != nil {
		s.did, s.before = nil, t.measured()
	}
}

// measured is where the pieces stand as last measured.
func (t *Table) measured() diagnosis.Scene {
	out := diagnosis.Scene{}
	for q, o := range t.pieces {
		if p := t.now.Board[q]; p != chess.NoPiece {
			out[t.identity(p, Place(q))] = diagnosis.Sighting{At: t.centre(q).Add(o.Delta), Sigma: o.Sigma}
		}
	}
	return out
}

// note notes a step that the machine is about to do.
func (s *Suspects) note(t *Table, step carry.Step) {
	if s == nil {
		return
	}
	m := diagnosis.Motion{Path: step.Path}
	switch step.Do {
	case carry.Travel:
		m.Act = diagnosis.Travel
	case carry.Grip, carry.Release:
		m.Act, m.Raised = diagnosis.Lift, step.Do == carry.Grip
	case carry.Carry:
		m.Act, m.Piece = diagnosis.Carry, t.identity(step.Piece, t.way(step).From)
		m.To = step.PiecePath[len(step.PiecePath)-1]
	default:
		return
	}
	s.did = append(s.did, m)
}

// handed notes that a person moved a piece.
func (s *Suspects) handed(t *Table, piece chess.Piece, from Place) {
	if s != nil && from >= 0 {
		s.did = append(s.did, diagnosis.Motion{Handed: t.identity(piece, from)})
	}
}

// look takes into account what a picture shows after what was done.
func (s *Suspects) look(t *Table, after diagnosis.Scene) {
	if s == nil || len(s.did) == 0 {
		return
	}
	for _, y := range diagnosis.Observe(float64(t.s.Square), s.did, s.before, after) {
		s.machine.Add(y)
	}
	s.did = nil
	for p, is := range after {
		s.before[p] = is
	}
}

// forget leaves what was done since the last look unjudged.
func (s *Suspects) forget() {
	if s != nil {
		s.did = nil
	}
}

// one is the scene in which only a carried piece was looked for.
func (t *Table) one(w Way, at frame.Spot[frame.Board], sigma float64) diagnosis.Scene {
	return diagnosis.Scene{t.identity(w.Piece, w.From): {At: at, Sigma: sigma}}
}

// found notes where a piece was seen that was carried.
func (s *Suspects) found(t *Table, w Way, at sight.Stray) { s.look(t, t.one(w, at.At, at.Sigma)) }

// slipped notes where a piece of the machine's move was found, and what became
// of all others.
func (s *Suspects) slipped(t *Table, w Way, at sight.Stray) {
	if s == nil {
		return
	}
	after, who := s.scattered(t), t.identity(w.Piece, w.From)
	if _, isSeen := after[who]; !isSeen {
		after[who] = diagnosis.Sighting{At: at.At, Sigma: at.Sigma}
	}
	s.look(t, after)
}

// missed notes that a piece was not seen where it was carried to.
func (s *Suspects) missed(t *Table, w Way, is sighting, at sight.Stray) {
	if is == strayed || is == stayed {
		s.found(t, w, at)
	} else {
		s.look(t, diagnosis.Scene{})
	}
}

// disorder notes where the pieces are in a picture that no move explains, before
// a person sets them right.
func (s *Suspects) disorder(t *Table) {
	if s != nil && len(s.did) > 0 {
		s.look(t, s.scattered(t))
	}
}

// scattered is where the pieces are that were on the board before the machine
// moved, by the single places of the last picture: on squares and elsewhere,
// whatever move may explain it.
func (s *Suspects) scattered(t *Table) diagnosis.Scene {
	var seen []diagnosis.Detection
	var known []frame.Spot[frame.Board]
	for _, p := range t.occupied() {
		if p.Open && p.Belief > likelier {
			seen = append(seen, diagnosis.Detection{Side: p.Side.String(), Sighting: diagnosis.Sighting{At: p.Found, Sigma: p.Sigma}})
			known = append(known, p.Found)
		}
	}
	for _, p := range t.p.Eye.Strangers(known) {
		seen = append(seen, diagnosis.Detection{Side: p.Side.String(), Sighting: diagnosis.Sighting{At: p.At, Sigma: p.Sigma}})
	}
	return diagnosis.Match(float64(t.s.Square), s.before, seen)
}

// camera notes that a picture came, none came, or the same again.
func (s *Suspects) camera(err error) {
	if s == nil {
		return
	}
	y := diagnosis.Symptom{Act: diagnosis.Look, Outcome: diagnosis.PictureLost}
	switch {
	case err == nil:
		y.Outcome = diagnosis.Done
	case errors.Is(err, errFrozen):
		y.Outcome = diagnosis.PictureFrozen
	}
	s.machine.Add(y)
}

// drove notes what the gantry says of a step. A lag is no failure: the stroke
// ended where it should.
func (s *Suspects) drove(step carry.Step, err error) error {
	var lag *carry.Lag
	var stall *carry.Stall
	y := diagnosis.Symptom{Act: diagnosis.Travel, Path: step.Path}
	if step.Do == carry.Carry {
		y.Act = diagnosis.Carry
	}
	switch {
	case errors.As(err, &lag):
		y.Outcome, y.Axis, y.Amount = diagnosis.Lagged, lag.Axis, float64(lag.Behind)
		err = nil
	case errors.As(err, &stall):
		y.Outcome, y.Axis = diagnosis.Stalled, stall.Axis
	default:
		return err
	}
	if s != nil {
		s.machine.Add(y)
	}
	return err
}

// isHopeless says whether it is useless to carry a piece.
func (s *Suspects) isHopeless(t *Table, piece chess.Piece, at Place) bool {
	return s != nil && s.machine.Hopeless(t.identity(piece, at).ID)
}

// suspect tells the maker which part to look at, as soon as that is clear.
func (t *Table) suspect(ctx context.Context) error {
	s := t.s.Suspects
	if s == nil {
		return nil
	}
	for _, f := range s.machine.Named() {
		key := fmt.Sprint(f.Cause, f.Piece, f.Axis)
		if s.told[key] {
			continue
		}
		s.told[key] = true
		t.observe(Event{Suspicion: f.Sentence})
		if err := t.record(ctx, Record{State: t.state, What: Suspected, Cause: string(f.Cause), Origin: f.Piece, Axis: f.Axis, Said: f.Sentence}); err != nil {
			return err
		}
	}
	return nil
}
