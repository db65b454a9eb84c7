// SPDX-License-Identifier: Apache-2.0

package web

import (
	"context"
	"net/http"
	"testing"
)

func TestTheHandIsShownAtOnce(t *testing.T) {
	for _, c := range []struct{ desc, body, want string }{
		{"a move", `{"from":"e1","to":"e2"}`, "K e2, P a2, n a3"},
		{"a capture takes the victim off", `{"from":"a2","to":"a3"}`, "K e1, P a3, n -"},
		{"taken off", `{"from":"a3","to":"off"}`, "K e1, P a2, n -"},
		{"put on from nowhere", `{"from":"off","to":"h1","piece":"Q"}`, "K e1, P a2, Q h1, n a3"},
		{"from an empty square", `{"from":"h1","to":"h2"}`, "K e1, P a2, n a3"},
	} {
		s := playing(&recorder{})
		s.Publish(Event{FEN: "8/8/8/8/8/n7/P7/4K3 w - - 0 1", Machine: specimenMachine()})
		call(s.Handler(), http.MethodPost, "/api/hand", c.body)
		if got := where(s.state.Pieces); got != c.want {
			t.Errorf("%s: %s, want %s", c.desc, got, c.want)
		}
	}
}

// shower is Controls that publishes the pieces itself.
type shower struct {
	recorder
	s *Server
}

func (c *shower) Hand(context.Context, HandAct) error {
	c.s.Publish(Event{Pieces: []Piece{{ID: "k", Piece: "K", Square: "e2", X: 17, Y: -79}}})
	return nil
}

func TestWhoPublishesThePiecesIsBelieved(t *testing.T) {
	c := &shower{}
	c.s = playing(c)
	c.s.Publish(Event{Pieces: []Piece{{ID: "k", Piece: "K", Square: "e1"}}})
	call(c.s.Handler(), http.MethodPost, "/api/hand", `{"from":"e1","to":"e3"}`)
	if got := c.s.state.Pieces[0]; got.Square != "e2" || got.X != 17 {
		t.Errorf("overwritten by a guess: %+v", got)
	}
}

func TestCapturedPiecesStayBesideTheBoard(t *testing.T) {
	s := New(nil)
	s.Publish(Event{FEN: "8/8/8/8/8/n7/P6p/4K3 w - - 0 1", Machine: specimenMachine()})
	for _, c := range []struct {
		desc string
		e    Event
		want string
	}{
		{"the knight is taken", Event{Pieces: []Piece{{ID: "1", Piece: "K", Square: "e1"}, {ID: "2", Piece: "P", Square: "a3"}, {ID: "3", Piece: "p", Square: "h2"}}}, "K e1, P a3, n -, p h2"},
		{"the pawn becomes a queen", Event{FEN: "8/8/8/8/8/P7/8/4K2q w - - 0 1"}, "K e1, P a3, n -, p -, q h1"},
		{"a move is taken back", Event{FEN: "8/8/8/8/8/n7/P7/4K2q w - - 0 1"}, "K e1, P a2, n a3, p -, q h1"},
		{"the caller knows better", Event{Pieces: []Piece{{ID: "1", Piece: "K", Square: "e1"}, {ID: "2", Piece: "r"}}}, "K e1, r -"},
		{"a new game", Event{Moves: []string{}, Pieces: []Piece{{ID: "1", Piece: "K", Square: "e1"}}}, "K e1"},
	} {
		s.Publish(c.e)
		if got := where(s.state.Pieces); got != c.want {
			t.Errorf("%s: %s, want %s", c.desc, got, c.want)
		}
		seen := map[string]bool{}
		for _, m := range s.state.Pieces {
			if seen[m.ID] {
				t.Errorf("%s: two pieces are called %q", c.desc, m.ID)
			}
			seen[m.ID] = true
		}
	}
}

func TestWhatIsWantedGoesWithTheSentence(t *testing.T) {
	s := New(nil)
	s.Publish(Event{Sentence: "Take it off.", Wanted: []Asked{{"e5", Off, "N"}}})
	s.Publish(Event{State: Removal})
	if len(s.state.Wanted) != 1 {
		t.Error("cleared too early")
	}
	s.Publish(Event{Sentence: "Thank you."})
	if len(s.state.Wanted) != 0 {
		t.Error("still wanted after the next sentence")
	}
}
