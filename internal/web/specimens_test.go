// SPDX-License-Identifier: Apache-2.0

package web

import (
	"bytes"
	"encoding/json"
	"flag"
	"image/jpeg"
	"net/http"
	"os"
	"regexp"
	"strings"
	"testing"
	"time"
)

var update = flag.Bool("update", false, "rewrite golden files")

func TestTheSpecimensIsOffUnlessAskedFor(t *testing.T) {
	if got := call(New(nil).Handler(), http.MethodGet, "/specimens", "").Code; got != 404 {
		t.Errorf("status %d", got)
	}
}

func TestEveryStateHasAStory(t *testing.T) {
	s := New(nil)
	s.Specimens = true
	h := s.Handler()
	index := call(h, http.MethodGet, "/specimens", "").Body.String()
	seen := map[State]bool{}
	for _, specimen := range specimens() {
		for _, path := range []string{"/", "/bench", "/static/style.css"} {
			if got := call(h, http.MethodGet, "/specimens/"+specimen.name+path, "").Code; got != 200 {
				t.Errorf("%s%s: status %d", specimen.name, path, got)
			}
		}
		if !strings.Contains(index, `specimens/`+specimen.name+`/"`) {
			t.Errorf("%s is not listed", specimen.name)
		}
		for _, e := range specimen.events {
			seen[e.State] = true
		}
	}
	for _, state := range []State{Starting, Guest, Reading, Thinking, Removal, Carrying, Verifying, Trouble, Over} {
		if !seen[state] {
			t.Errorf("no specimen shows %q", state)
		}
	}
}

// pair is a place spread over four lines.
var pair = regexp.MustCompile(`\[\s+(-?[\d.]+),\s+(-?[\d.]+)\s+\]`)

// The snapshot of one specimen, kept as text: the wire, to be read and reviewed.
func TestWire(t *testing.T) {
	s := New(nil)
	s.now = func() time.Time { return time.Date(2026, 3, 14, 12, 1, 0, 0, time.UTC) }
	for _, e := range specimenCarrying() {
		s.Publish(e)
	}
	e := s.snapshot()
	e.Pieces, e.Lean = e.Pieces[:2], e.Lean[:1]
	e.Lean[0].Points, e.View.Corners = e.Lean[0].Points[:3], e.View.Corners[:2]
	got, err := json.MarshalIndent(e, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	got = append(pair.ReplaceAll(got, []byte("[$1, $2]")), '\n')
	const golden = "testdata/carrying.json"
	if *update {
		if err := os.WriteFile(golden, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("the wire has changed; see %s and rewrite it with -update if that is meant\n%s", golden, got)
	}
}

func TestTheSpecimenDeskObeys(t *testing.T) {
	s := New(nil)
	s.Specimens = true
	h := s.Handler()
	act := func(body string) int {
		return call(h, http.MethodPost, "/specimens/promotion/api/hand", body).Code
	}
	if got := act(`{"from":"off","to":"a8","piece":"Q"}`); got != 200 {
		t.Errorf("putting a queen: %d", got)
	}
	if got := act(`{"from":"e4","to":"e5"}`); got != 409 {
		t.Errorf("moving nothing: %d", got)
	}
}

func TestTheSpecimenPictureIsAPicture(t *testing.T) {
	_, b := specimenPicture(specimenOf(specimenMid)[0])
	img, err := jpeg.Decode(bytes.NewReader(b))
	if err != nil || img.Bounds().Dx() != specimenWidth {
		t.Errorf("%v %v", img, err)
	}
}
