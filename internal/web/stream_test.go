// SPDX-License-Identifier: Apache-2.0

package web

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

// page is a page's end of the stream.
type page struct {
	t    *testing.T
	body *bufio.Reader
}

func open(t *testing.T, s *Server) page {
	t.Helper()
	srv := httptest.NewServer(s.Handler())
	ctx, cancel := context.WithCancel(context.Background())
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, srv.URL+"/events", nil)
	if err != nil {
		t.Fatal(err)
	}
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { cancel(); _ = res.Body.Close(); srv.Close() })
	if got := res.Header.Get("Content-Type"); got != "text/event-stream" {
		t.Fatalf("content type %q", got)
	}
	return page{t, bufio.NewReader(res.Body)}
}

// next reads one event.
func (p page) next() (name string, e Event) {
	p.t.Helper()
	for {
		line, err := p.body.ReadString('\n')
		if err != nil {
			p.t.Fatal(err)
		}
		key, value, _ := strings.Cut(strings.TrimSpace(line), ": ")
		switch key {
		case "event":
			name = value
		case "data":
			if err := json.Unmarshal([]byte(value), &e); err != nil {
				p.t.Fatal(err)
			}
			return name, e
		}
	}
}

func TestFirstASnapshotThenParts(t *testing.T) {
	s := New(nil)
	s.Publish(Event{Sentence: "Your move.", State: Guest, Moves: []string{"e4"}, LastMove: "e2e4"})
	p := open(t, s)
	name, e := p.next()
	if name != "snapshot" || e.Sentence != "Your move." || e.State != Guest || len(e.Moves) != 1 {
		t.Fatalf("got %s %+v, want the whole state first", name, e)
	}
	s.Publish(Event{State: Thinking})
	name, e = p.next()
	if name != "part" || e.State != Thinking || e.Sentence != "" || e.Moves != nil {
		t.Fatalf("got %s %+v, want only what changed", name, e)
	}
}

func TestAnEmptyPartGoesOverTheWire(t *testing.T) {
	b, err := json.Marshal(Event{Moves: []string{}, Question: &Question{}, Lanes: []Lane{}, Motion: &Motion{}})
	if err != nil {
		t.Fatal(err)
	}
	want := `{"motion":{},"lanes":[],"question":{},"moves":[]}`
	if string(b) != want {
		t.Errorf("got  %s\nwant %s", b, want)
	}
}

func TestALatePageJoinsTheMotionMidway(t *testing.T) {
	s := New(nil)
	clock := time.Unix(1000, 0)
	s.now = func() time.Time { return clock }
	s.Publish(Event{Motion: &Motion{Path: []Place{{0, 0}, {10, 0}}, Duration: 4}})
	clock = clock.Add(1500 * time.Millisecond)
	if _, e := open(t, s).next(); e.Motion.Elapsed != 1.5 {
		t.Errorf("elapsed %v s, want 1.5", e.Motion.Elapsed)
	}
	s.Publish(Event{Carriage: &Carriage{X: 10}})
	if _, e := open(t, s).next(); len(e.Motion.Path) != 0 || e.Carriage.X != 10 {
		t.Errorf("motion %+v goes on after the carriage has reported", e.Motion)
	}
}

func TestASlowPageCostsNoWaitingAndLosesNothingThatMatters(t *testing.T) {
	s := New(nil)
	slow := s.watch() // never read until the end
	began := time.Now()
	const many = 2000
	for i := range many {
		s.Publish(Event{Sentence: fmt.Sprint(i), JPEG: []byte{1}, Log: []Line{{Text: fmt.Sprint(i)}}})
	}
	if took := time.Since(began); took > 10*time.Second { // the merges take well under a second; waiting for the page would take for ever
		t.Errorf("publishing took %v", took)
	}
	e, snapshot, ok := slow.take()
	if !ok || !snapshot || e.Sentence != fmt.Sprint(many-1) || e.Picture != many {
		t.Errorf("got sentence %q, picture %d; want the newest of each", e.Sentence, e.Picture)
	}
	if len(e.Log) != logKept || e.Log[logKept-1].N != many {
		t.Errorf("kept %d log lines, last %d; want the newest %d", len(e.Log), e.Log[len(e.Log)-1].N, logKept)
	}
	if len(e.JPEG) != 0 {
		t.Error("the letter box holds on to pictures")
	}
}

func TestAClosedPageIsForgotten(t *testing.T) {
	s := New(nil)
	srv := httptest.NewServer(s.Handler())
	defer srv.Close()
	ctx, cancel := context.WithCancel(context.Background())
	req, _ := http.NewRequestWithContext(ctx, http.MethodGet, srv.URL+"/events", nil)
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	cancel()
	_ = res.Body.Close()
	for range 200 {
		s.mu.Lock()
		n := len(s.watchers)
		s.mu.Unlock()
		if n == 0 {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Error("the server still writes for a page that has gone")
}

func TestThePictureIsServedAsItCame(t *testing.T) {
	s := New(nil)
	h := s.Handler()
	if got := call(h, http.MethodGet, "/picture", "").Code; got != http.StatusNotFound {
		t.Errorf("without a picture: status %d", got)
	}
	s.Publish(Event{JPEG: []byte("\xff\xd8picture")})
	res := call(h, http.MethodGet, "/picture?n=1", "")
	if res.Body.String() != "\xff\xd8picture" || res.Header().Get("Content-Type") != "image/jpeg" {
		t.Errorf("got %q", res.Body.String())
	}
}

// A page hears a sign of life while nothing happens: an event, since a comment
// never reaches the script.
func TestAnIdleStreamBeats(t *testing.T) {
	s := New(nil)
	s.beat = time.Millisecond
	p := open(t, s)
	p.next()
	for {
		line, err := p.body.ReadString('\n')
		if err != nil {
			t.Fatal(err)
		}
		if line == "event: beat\n" {
			break
		}
	}
	if data, err := p.body.ReadString('\n'); err != nil || data != "data: 1\n" { // a browser drops an event without data
		t.Errorf("%q %v", data, err)
	}
}

// What a game's end left waiting for a slow page does not show in the next game.
func TestTheOldResultIsNotInTheNewGame(t *testing.T) {
	s := New(nil)
	slow := s.watch()
	s.Publish(Event{Moves: []string{"f3", "e5", "g4", "Qh4#"}, LastMove: "d8h4", Result: "0-1"})
	s.Publish(Event{Moves: []string{}})
	if e, _, _ := slow.take(); e.Result != "" || e.LastMove != "" {
		t.Errorf("result %q, last move %q with moves %v", e.Result, e.LastMove, e.Moves)
	}
}

// A game that was resigned before its first move has the same moves as the next one, none:
// a page is told to forget the result all the same.
func TestAResultWithoutMovesIsForgotten(t *testing.T) {
	s := New(nil)
	page := s.watch()
	s.Publish(Event{Moves: []string{}, Sentence: "It is your move.", Result: "0-1"})
	if e, _, _ := page.take(); e.Result != "0-1" {
		t.Errorf("result %q", e.Result)
	}
	s.Publish(Event{Moves: []string{}, Sentence: "Another game."})
	if e, _, _ := page.take(); e.Moves == nil || s.state.Result != "" {
		t.Errorf("moves %v, result %q", e.Moves, s.state.Result)
	}
	s.Publish(Event{Moves: []string{}})
	if e, _, ok := page.take(); ok {
		t.Errorf("the same again: %+v", e)
	}
}
