// SPDX-License-Identifier: Apache-2.0

package web

import (
	"context"
	"net/http"
	"strings"
	"testing"
)

func TestARequestHasWhatItNeedsAndNoMore(t *testing.T) {
	for _, c := range []struct {
		r    Request
		want string // part of the refusal; "" for none
	}{
		{Request{For: ForBack, Plies: 1}, ""},
		{Request{For: ForBack}, "plies must be 1 or more"},
		{Request{For: ForBack, Plies: 1, Move: "e2e4"}, "a field too many"},
		{Request{For: ForNew}, ""},
		{Request{For: ForNew, Side: "white", Time: 2.5}, ""},
		{Request{For: ForNew, FEN: specimenStart}, ""},
		{Request{For: ForNew, Odds: "queen"}, ""},
		{Request{For: ForPosition, FEN: specimenStart, Odds: "queen"}, "a field too many"},
		{Request{For: ForStrength, Strength: "chalk"}, ""},
		{Request{For: ForStrength}, "give strength"},
		{Request{For: ForHint}, ""},
		{Request{For: ForHint, Strength: "chalk"}, "a field too many"},
		{Request{For: ForNew, Side: "red"}, `"white" or "black"`},
		{Request{For: ForNew, Time: -1}, "time_s must be 0.1 to 600"},
		{Request{For: ForNew, Time: 1e9}, "time_s must be 0.1 to 600"},
		{Request{For: ForPlayed, Move: "e2e4"}, ""},
		{Request{For: ForPlayed}, ""},
		{Request{For: ForPosition}, "give fen"},
		{Request{For: ForPosition, FEN: specimenStart}, ""},
		{Request{For: ForResign, Plies: 3}, "a field too many"},
		{Request{For: ForDraw}, ""},
		{Request{For: ForRight}, ""},
		{Request{For: ForAfresh, FEN: specimenStart}, "a field too many"},
		{Request{For: ForResume}, ""},
		{Request{For: ForArrange}, ""},
		{Request{For: "dance"}, "is no request"},
		{Request{}, "is no request"},
	} {
		err := c.r.Check()
		if (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: got %v, want %q", c.r, err, c.want)
		}
	}
}

// asker is a Requester that remembers.
type asker struct{ got []Request }

func (a *asker) Request(_ context.Context, r Request) error {
	a.got = append(a.got, r)
	return nil
}

func TestARequestReachesTheGame(t *testing.T) {
	s, a := playing(&recorder{}), &asker{}
	if w := call(s.Handler(), http.MethodPost, "/api/request", `{"for":"draw"}`); w.Code != http.StatusConflict {
		t.Errorf("nobody grants requests here, but: %d", w.Code)
	}
	s.Requests = a
	if w := call(s.Handler(), http.MethodPost, "/api/request", `{"for":"new_game","side":"white","time_s":3}`); w.Code != 200 {
		t.Errorf("%d %s", w.Code, w.Body)
	}
	if w := call(s.Handler(), http.MethodPost, "/api/request", `{"for":"new_game","side":"pink"}`); w.Code != http.StatusBadRequest {
		t.Errorf("%d %s", w.Code, w.Body)
	}
	if want := (Request{For: ForNew, Side: "white", Time: 3}); len(a.got) != 1 || a.got[0] != want {
		t.Errorf("got %+v, want %+v", a.got, want)
	}
}

// A request that is granted is one that the check lets through; no other reaches the game.
func FuzzRequest(f *testing.F) {
	f.Add(`{"for":"take_back","plies":2}`)
	f.Add(`{"for":"new_game","side":"white","time_s":1e99}`)
	f.Add(`{"for":"position","fen":""}`)
	f.Fuzz(func(t *testing.T, body string) {
		a := &asker{}
		s := playing(&recorder{})
		s.Requests = a
		w := call(s.Handler(), http.MethodPost, "/api/request", body)
		if (w.Code == http.StatusOK) != (len(a.got) == 1) {
			t.Fatalf("status %d, asked %v", w.Code, a.got)
		}
		for _, r := range a.got {
			if err := r.Check(); err != nil {
				t.Errorf("asked %+v: %v", r, err)
			}
		}
	})
}

// An answer that reaches the game is to the question that is asked, by one of its choices.
func FuzzAnswer(f *testing.F) {
	f.Add(`{"n":7,"choice":1}`)
	f.Add(`{"n":7}`)
	f.Add(`{"n":-1,"choice":9}`)
	f.Fuzz(func(t *testing.T, body string) {
		r := &recorder{}
		s := playing(r)
		s.Publish(Event{Question: &Question{N: 7, Text: "Which?", Choices: []string{"e4", "none of these"}}})
		w := call(s.Handler(), http.MethodPost, "/api/answer", body)
		if did := strings.Join(r.did, "|"); (w.Code == http.StatusOK) != (did == "answer 7 0" || did == "answer 7 1") || w.Code != http.StatusOK && did != "" {
			t.Errorf("status %d, done %q", w.Code, did)
		}
	})
}
