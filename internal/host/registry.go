// SPDX-License-Identifier: Apache-2.0

package host

import (
	"fmt"
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
	"boardhand/internal/table/places"
	"boardhand/internal/web"
)

// registry gives each piece a name that stays the same as it moves.
type registry struct {
	machine *rig.Rig
	slots   []frame.Spot[frame.Board]
	pieces  []named
	given   int                           // names given to pieces from the box
	places  map[chess.Square]sight.Offset // of pieces on their squares, as last measured
	next    map[chess.Square]sight.Offset // likewise, once the move just seen counts
	drawn   map[string]web.Piece          // as shown last, by name
}

// named is one piece.
type named struct {
	id string
	places.Beside
}

func newRegistry(machine *rig.Rig, s places.Standing) *registry {
	r := &registry{machine: machine, slots: machine.Slots(), places: map[chess.Square]sight.Offset{}, drawn: map[string]web.Piece{}}
	r.follow(s)
	return r
}

// all lists the pieces of a standing, on the board and beside it.
func all(s places.Standing) (out []places.Beside) {
	for q, p := range s.Board {
		if p != chess.NoPiece {
			out = append(out, places.Beside{Piece: p, Place: places.Place(q)})
		}
	}
	return append(out, s.Beside...)
}

// follow brings the pieces up to date: those who stay keep their names, whoever
// is elsewhere now takes the name of one of its kind that is gone from its place.
func (r *registry) follow(s places.Standing) {
	now := all(s)
	next := make([]named, len(now))
	old := append([]named(nil), r.pieces...)
	take := func(fits func(named) bool) string {
		for i, m := range old {
			if fits(m) {
				old = append(old[:i], old[i+1:]...)
				return m.id
			}
		}
		return ""
	}
	for i, m := range now {
		next[i] = named{take(func(o named) bool { return o.Beside == m }), m}
	}
	for i, m := range now {
		if next[i].id == "" {
			next[i].id = take(func(o named) bool { return o.Piece == m.Piece })
		}
		if next[i].id == "" {
			r.given++
			next[i].id = fmt.Sprintf("m%d", r.given)
		}
	}
	for _, m := range r.pieces {
		if m.Place >= 0 && m.Place < places.Slot && !slices.ContainsFunc(now, func(n places.Beside) bool { return n == m.Beside }) {
			delete(r.places, chess.Square(m.Place))
		}
	}
	if r.pieces = next; r.next != nil {
		r.places, r.next = r.next, nil
	}
}

// measure keeps where a picture shows the pieces.
func (r *registry) measure(seen sight.Reading) {
	places := map[chess.Square]sight.Offset{}
	for _, o := range seen.Offsets {
		places[o.Square] = o
	}
	switch r.next = nil; seen.State {
	case sight.Same:
		r.places = places
	case sight.Moved:
		r.next = places
	}
}

// spot is where a piece stands on the board plane; false for one who is not there.
func (r *registry) spot(p places.Place) (frame.Spot[frame.Board], bool) {
	switch k := int(p - places.Slot); {
	case p >= 0 && p < places.Slot:
		q := chess.Square(p)
		return r.machine.Board.Centre(q.File(), q.Rank()), true
	case k >= 0 && k < len(r.slots):
		return r.slots[k], true
	}
	return frame.Spot[frame.Board]{}, false
}

// isOn says whether a spot lies on a square.
func (r *registry) isOn(q chess.Square, at frame.Spot[frame.Board]) bool {
	d := at.Sub(r.machine.Board.Centre(q.File(), q.Rank()))
	return max(math.Abs(d.X), math.Abs(d.Y)) <= float64(r.machine.Board.Square)/2
}

// id is the name of the piece of that kind nearest to a spot.
func (r *registry) id(piece chess.Piece, at frame.Spot[frame.Board]) string {
	best, id := 0.0, ""
	for _, m := range r.pieces {
		if s, ok := r.spot(m.Place); ok && m.Piece == piece && (id == "" || s.Distance(at) < best) {
			best, id = s.Distance(at), m.id
		}
	}
	return id
}

// shown lists all pieces with their measured places.
func (r *registry) shown() []web.Piece {
	out := []web.Piece{}
	for _, m := range r.pieces {
		w := web.Piece{ID: m.id, Piece: string(m.Piece.Letter())}
		at, ok := r.spot(m.Place)
		if q := chess.Square(m.Place); ok && m.Place < places.Slot {
			w.Square = q.String()
			at, w.Sigma = at.Add(r.places[q].Delta), r.places[q].Sigma*1e3
		} else if ok {
			w.Slot = rig.SlotName(int(m.Place-places.Slot), len(r.slots))
		}
		mm := web.MM(at)
		w.X, w.Y = tenth(mm[0]), tenth(mm[1])
		out = append(out, r.steady(w))
	}
	return out
}

// steady is a piece as it was shown last, as long as its measured place has
// not left that by more than it is uncertain.
func (r *registry) steady(w web.Piece) web.Piece {
	w.Sigma = tenth(w.Sigma)
	if old, ok := r.drawn[w.ID]; ok && old.Square == w.Square && old.Piece == w.Piece && w.Sigma > 0 && old.Sigma > 0 &&
		math.Hypot(w.X-old.X, w.Y-old.Y) <= w.Sigma {
		return old
	}
	r.drawn[w.ID] = w
	return w
}

// tenth rounds to a tenth of a millimetre: no screen shows more.
func tenth(v float64) float64 { return math.Round(v*10) / 10 }
