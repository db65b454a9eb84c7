// SPDX-License-Identifier: Apache-2.0

package web

import "reflect"

// trim leaves in e only what differs from the state before it, so that a page
// is sent nothing that it has. A motion is never left out: the same way may be
// gone again.
func (e *Event) trim(before Event) {
	same(&e.Sentence, before.Sentence)
	same(&e.State, before.State)
	same(&e.FEN, before.FEN)
	same(&e.Result, before.Result)
	same(&e.LastMove, before.LastMove)
	alike(&e.Pieces, before.Pieces)
	alike(&e.Phantoms, before.Phantoms)
	alike(&e.Running, before.Running)
	alike(&e.Legal, before.Legal)
	alike(&e.Wanted, before.Wanted)
	alike(&e.Lanes, before.Lanes)
	alike(&e.Lean, before.Lean)
	alike(&e.Moves, before.Moves)
	alike(&e.Offers, before.Offers)
	alike(&e.Carriage, before.Carriage)
	alike(&e.Reading, before.Reading)
	alike(&e.Question, before.Question)
	alike(&e.Visitor, before.Visitor)
	alike(&e.Machine, before.Machine)
	alike(&e.Halted, before.Halted)
	alike(&e.Hands, before.Hands)
	alike(&e.Slow, before.Slow)
	alike(&e.Suspicion, before.Suspicion)
	alike(&e.Camera, before.Camera)
	alike(&e.View, before.View)
	alike(&e.BringUp, before.BringUp)
	alike(&e.Office, before.Office)
	if m := e.Motion; m != nil && len(m.Path) == 0 && before.Motion != nil && len(before.Motion.Path) == 0 {
		e.Motion = nil
	}
}

func same[T comparable](now *T, before T) {
	if *now == before {
		*now = *new(T)
	}
}

func alike[T any](now *T, before T) {
	if reflect.DeepEqual(*now, before) {
		*now = *new(T)
	}
}

// isEmpty says whether nothing is left to be sent.
func (e Event) isEmpty() bool {
	e.JPEG = nil
	return reflect.DeepEqual(e, Event{})
}
