// SPDX-License-Identifier: Apache-2.0

package table

import (
	"errors"
	"fmt"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/diagnosis"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
)

// ErrFrozen says that the camera delivers one picture again and again: two
// pictures of a real camera are never the same to the byte.
var ErrFrozen = errors.New("the camera shows the same picture again and again: unplug it and plug it in again")

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
func (s *Suspects) begin(b *Model) {
	if s != nil {
		s.did, s.before = nil, b.Measured()
	}
}

// note notes a step that the machine is about to do.
func (s *Suspects) note(b *Model, step carry.Step) {
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
		m.Act, m.Piece = diagnosis.Carry, b.Identity(step.Piece, b.Way(step).From)
		m.To = step.PiecePath[len(step.PiecePath)-1]
	default:
		return
	}
	s.did = append(s.did, m)
}

// handed notes that a person moved a piece.
func (s *Suspects) handed(b *Model, piece chess.Piece, from Place) {
	if s != nil && from >= 0 {
		s.did = append(s.did, diagnosis.Motion{Handed: b.Identity(piece, from)})
	}
}

// look takes into account what a picture shows after what was done.
func (s *Suspects) look(b *Model, after diagnosis.Scene) {
	if s == nil || len(s.did) == 0 {
		return
	}
	for _, y := range diagnosis.Observe(float64(b.Layout.Square), s.did, s.before, after) {
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

// found notes where a piece was seen that was carried.
func (s *Suspects) found(b *Model, w Way, at sight.Stray) {
	s.look(b, diagnosis.Scene{b.Identity(w.Piece, w.From): {At: at.At, Sigma: at.Sigma}})
}

// slipped notes where a piece of the machine's move was found, with all others
// as the last reading measured them.
func (s *Suspects) slipped(b *Model, w Way, at sight.Stray) {
	after := b.Measured()
	after[b.Identity(w.Piece, w.From)] = diagnosis.Sighting{At: at.At, Sigma: at.Sigma}
	s.look(b, after)
}

// missed notes that a piece was seen nowhere.
func (s *Suspects) missed(b *Model) { s.look(b, diagnosis.Scene{}) }

// camera notes that a picture came, none came, or the same again.
func (s *Suspects) camera(err error) {
	if s == nil {
		return
	}
	y := diagnosis.Symptom{Act: diagnosis.Look, Outcome: diagnosis.PictureLost}
	switch {
	case err == nil:
		y.Outcome = diagnosis.Done
	case errors.Is(err, ErrFrozen):
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

// isUseless says whether it is useless to carry the piece of a name.
func (s *Suspects) isUseless(name string) bool { return s != nil && s.machine.Hopeless(name) }

// news lists the parts that are named and were not told yet.
func (s *Suspects) news() (out []diagnosis.Finding) {
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
