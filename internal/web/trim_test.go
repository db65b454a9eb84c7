// SPDX-License-Identifier: Apache-2.0

package web

import "testing"

// What a page has already is not sent again: the camera's five pictures a
// second bring the same reading and the same pieces all evening.
func TestOnlyWhatChangedIsSent(t *testing.T) {
	s := New(nil)
	full := specimenOf(specimenMid, Event{State: Guest, Sentence: "Your move.", Reading: &Read{State: "same", Belief: 0.99}, Question: &Question{}})
	for _, e := range full {
		s.Publish(e)
	}
	w := s.watch()
	w.take()
	quiet := full[0]
	quiet.JPEG, quiet.Log = nil, nil
	s.Publish(quiet)
	s.Publish(Event{Reading: &Read{State: "same", Belief: 0.99}, Question: &Question{}, Motion: &Motion{}})
	if e, _, ok := w.take(); ok && (e.Pieces != nil || e.Machine != nil || e.Lean != nil || e.Moves != nil || e.Camera != nil || e.View != nil) {
		t.Errorf("sent again: %+v", e)
	}
	s.Publish(Event{Reading: &Read{State: "hand"}, Sentence: "Your move."})
	e, _, ok := w.take()
	if !ok || e.Reading == nil || e.Reading.State != "hand" || e.Sentence != "" {
		t.Errorf("got %+v, want the new reading alone", e)
	}
}

func TestAPageIsNotWokenForNothing(t *testing.T) {
	s := New(nil)
	s.Publish(Event{State: Guest})
	w := s.watch()
	w.take()
	s.Publish(Event{State: Guest})
	if e, _, ok := w.take(); ok {
		t.Errorf("woken for %+v", e)
	}
}

// The same way gone a second time is a new motion.
func TestTheSameMotionAgainIsSent(t *testing.T) {
	s := New(nil)
	m := Motion{Path: []Place{{0, 0}, {9, 9}}, Duration: 1}
	s.Publish(Event{Motion: &m})
	w := s.watch()
	w.take()
	s.Publish(Event{Motion: &m})
	if e, _, _ := w.take(); e.Motion == nil {
		t.Error("the page does not see the carriage go again")
	}
}

// A carried piece stands where the carriage has put it down; pages that were
// there all along are told so too.
func TestWhereAPieceWasPutDownIsSent(t *testing.T) {
	s := New(nil)
	s.Publish(Event{Pieces: []Piece{{ID: "k", Piece: "k", Square: "e8", X: 16, Y: 112}}})
	s.Publish(Event{Motion: &Motion{Path: []Place{{16, 112}, {80, 112}}, Carrying: "k", Duration: 1}})
	w := s.watch()
	w.take()
	s.Publish(Event{Carriage: &Carriage{X: 80, Y: 112}})
	if e, _, _ := w.take(); len(e.Pieces) != 1 || e.Pieces[0].X != 80 {
		t.Errorf("got the pieces %+v, want the king at 80 mm", e.Pieces)
	}
}
