// SPDX-License-Identifier: Apache-2.0

package view

import (
	"slices"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/photo"
	"boardhand/internal/sight"
	"boardhand/internal/table/places"
)

// A piece that was carried is told from what its two places and the strangers show;
// where it is not, two pictures must agree.
func TestLookForACarriedPiece(t *testing.T) {
	pawn := chess.MakePiece(chess.Black, chess.Pawn)
	aside := frame.Spot[frame.Board]{X: 0.04, Y: 0.04}
	for name, c := range map[string]struct {
		to      string // "": the chute
		stands  string // where it is seen; "": nowhere
		off     float64
		hidden  bool
		strange bool
		want    Sighting
		looks   int
	}{
		"arrived":                     {to: "e5", stands: "e5", want: Arrived, looks: 1},
		"stayed":                      {to: "e5", stands: "e7", want: Stayed, looks: 2},
		"nearly arrived":              {to: "e5", stands: "e5", off: 0.016, want: Strayed, looks: 2},
		"lies elsewhere":              {to: "e5", strange: true, want: Strayed, looks: 2},
		"nowhere":                     {to: "e5", want: Gone, looks: 2},
		"its goal cannot be seen":     {to: "e5", hidden: true, want: Unseen, looks: 1},
		"down the chute":              {want: Unseen, looks: 1},
		"left on the way to the hole": {strange: true, want: Strayed, looks: 2},
		"not taken off its square":    {stands: "e7", want: Stayed, looks: 2},
	} {
		p := newPaper(t, "same", "same", "same")
		w := places.Way{Piece: pawn, From: p.place("e7"), To: places.Chute}
		if c.to != "" {
			w.To = p.place(c.to)
		}
		p.seen = func(at frame.Spot[frame.Board]) sight.Presence {
			s := sight.Presence{Open: !c.hidden, Belief: 0.001, Sure: 0.5, At: at, Found: at}
			if c.stands != "" && at == p.model.Layout.Centre(square(c.stands)) {
				s = of(chess.Black, at)
				s.Found.X += c.off
			}
			return s
		}
		if c.strange {
			p.strangers = []sight.Stray{{Side: chess.White}, {Side: chess.Black, At: aside}}
		}
		is, s, err := p.LookFor(p.context(), w)
		if err != nil || is != c.want || p.looks != c.looks {
			t.Errorf("%s: sighting %d after %d pictures, want %d after %d (%v)", name, is, p.looks, c.want, c.looks, err)
		}
		if c.strange && s.At != aside {
			t.Errorf("%s: it is at %v", name, s.At)
		}
	}
}

// A piece that somebody took out of its slot is with them; one that stands in another
// slot was moved there, if nobody else can be meant.
func TestInspectSlots(t *testing.T) {
	white := chess.MakePiece(chess.White, chess.Queen)
	for name, c := range map[string]struct {
		shown   [2]string // what each slot shows: "w", "b", "aside" (a white one beside its middle), "." or "?" (hidden)
		vouched bool
		want    places.Place
		asked   bool
		still   bool // a person's word counts on
	}{
		"still there":              {[2]string{"w", "."}, false, places.Slot, false, false},
		"taken out":                {[2]string{".", "."}, false, places.Person, true, false},
		"in the other slot":        {[2]string{".", "w"}, false, places.Slot + 1, false, false},
		"another's piece there":    {[2]string{".", "b"}, false, places.Person, true, false},
		"pushed out":               {[2]string{"aside", "."}, false, places.Person, true, false},
		"cannot be seen":           {[2]string{"?", "w"}, false, places.Slot, false, false},
		"a person said it stands":  {[2]string{"?", "."}, true, places.Slot, false, true},
		"and it is seen there":     {[2]string{"w", "."}, true, places.Slot, false, false},
		"and it is seen beside it": {[2]string{"aside", "."}, true, places.Person, false, false},
		"and it is not seen there": {[2]string{".", "."}, true, places.Person, false, false},
	} {
		p := newPaper(t)
		p.model.Now.Beside = []places.Beside{{Piece: white, Place: places.Slot}}
		p.model.Vouched[places.Slot] = c.vouched
		p.seen = func(at frame.Spot[frame.Board]) sight.Presence {
			k := slices.Index(p.model.Layout.Slots, at)
			switch c.shown[k] {
			case "w":
				return of(chess.White, at)
			case "b":
				return of(chess.Black, at)
			case "aside":
				seen := of(chess.White, at)
				seen.Found = at.Add(frame.Spot[frame.Board]{Y: 0.012})
				return seen
			case ".":
				return sight.Presence{Open: true, Belief: 0.001, Sure: 0.5, At: at, Found: at}
			}
			return sight.Presence{At: at, Found: at}
		}
		p.InspectSlots()
		if got := p.model.Now.Beside[0].Place; got != c.want {
			t.Errorf("%s: it is at %v, want %v", name, got, c.want)
		}
		if asked := len(p.model.Taken) == 1; asked != c.asked {
			t.Errorf("%s: to be asked for: %v", name, p.model.Taken)
		}
		if still := p.model.Vouched[places.Slot]; still != c.still {
			t.Errorf("%s: a person's word counts: %v", name, still)
		}
	}
}

// Single squares are looked at once a picture.
func TestEvidenceIsOfOnePicture(t *testing.T) {
	p := newPaper(t)
	n := 0
	p.seen = func(at frame.Spot[frame.Board]) sight.Presence {
		n++
		return sight.Presence{Open: true, At: at}
	}
	if a, b := p.Evidence(), p.Evidence(); a != b || n != 64 {
		t.Errorf("%d places were looked at", n)
	}
	p.see(photo.Picture{Name: "next"}, sight.Reading{})
	if p.Evidence(); n != 128 {
		t.Errorf("after another picture %d places were looked at", n)
	}
}
