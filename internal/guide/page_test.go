// SPDX-License-Identifier: Apache-2.0

package guide

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"
	"time"

	"boardhand/internal/bringup"
	"boardhand/internal/chess"
	"boardhand/internal/measured"
	"boardhand/internal/rig"
	"boardhand/internal/twin"
	"boardhand/internal/web"
)

// bench is a twin that is brought up by a page.
type bench struct {
	t     *testing.T
	world *twin.World
	rig   *rig.Rig
	file  *measured.File
	url   string
	saved int
	kept  []string // records written
}

// open serves the page of a twin on which nothing stands; what file says was measured before.
func open(t *testing.T, built string, file *measured.File) *bench {
	t.Helper()
	b := &bench{t: t, rig: rig.Default(), file: file}
	q, err := twin.Build(built, b.rig, 1)
	if err != nil {
		t.Fatal(err)
	}
	if b.world, err = twin.New(b.rig, twin.Options{Seed: 1, Deviations: &q, Visitor: true, Pieces: slices.Repeat([]chess.Piece{chess.NoPiece}, int(chess.NoSquare))}); err != nil {
		t.Fatal(err)
	}
	var s *web.Server
	g, err := New(bringup.Parts{Rig: b.rig, Machine: measured.Twin(1), Gantry: b.world.Gantry(), Camera: b.world.Camera(), Now: time.Now,
		Save: func(*measured.File) error { b.saved++; return nil }}, file,
		Options{Say: func(text string) { t.Log(text) }, Obey: b.obey, Publish: func(e web.Event) { s.Publish(e) },
			Record: func(*measured.File) error { b.kept = append(b.kept, "record"); return nil }})
	if err != nil {
		t.Fatal(err)
	}
	s = web.New(g)
	s.Guide = g
	served := httptest.NewServer(s.Handler())
	ctx, cancel := context.WithCancel(t.Context())
	ran := make(chan error, 1)
	go func() { ran <- g.Run(ctx) }()
	t.Cleanup(func() {
		cancel()
		if err := <-ran; ctx.Err() == nil || err == nil {
			t.Errorf("the guide ended by itself: %v", err)
		}
		served.CloseClientConnections()
		served.Close()
	})
	b.url = served.URL
	return b
}

// obey is the twin's hand.
func (b *bench) obey(r bringup.Request) error {
	hand := b.world.Visitor()
	hand.DropSheet()
	var err error
	switch r.Asking {
	case bringup.Clear:
		for on := range chess.NoSquare {
			_ = hand.MovePiece(on, chess.NoSquare) // where nothing stands there is nothing to take
		}
	case bringup.Put:
		err = hand.PutPiece(r.Piece, r.On)
	case bringup.HoldSheet:
		hand.HoldSheet(r.Hold.Place(b.rig))
	}
	hand.Finish()
	return err
}

// post sends an action; it returns the status and the sentence of a refusal.
func (b *bench) post(what, body string) (int, string) {
	b.t.Helper()
	r, err := http.Post(b.url+"/api/"+what, "application/json", strings.NewReader(body))
	if err != nil {
		b.t.Fatal(err)
	}
	defer func() { _ = r.Body.Close() }()
	var said struct{ Error string }
	if err := json.NewDecoder(r.Body).Decode(&said); err != nil {
		b.t.Fatal(err)
	}
	return r.StatusCode, said.Error
}

// viewer is one page: what it was sent, laid over what it had.
type viewer struct {
	t     *testing.T
	lines *bufio.Scanner
	parts map[string]json.RawMessage // the newest of each
	now   web.Event
}

// view opens a page.
func (b *bench) view() *viewer {
	b.t.Helper()
	r, err := http.NewRequestWithContext(b.t.Context(), http.MethodGet, b.url+"/events", nil)
	if err != nil {
		b.t.Fatal(err)
	}
	got, err := http.DefaultClient.Do(r)
	if err != nil {
		b.t.Fatal(err)
	}
	b.t.Cleanup(func() { _ = got.Body.Close() })
	v := &viewer{t: b.t, lines: bufio.NewScanner(got.Body)}
	v.lines.Buffer(nil, 1<<22)
	return v
}

// until reads what comes until the page is as wanted.
func (v *viewer) until(what string, is func(web.Event) bool) {
	v.t.Helper()
	for !is(v.now) {
		if !v.lines.Scan() {
			v.t.Fatalf("waiting for %s: the stream ended: %v", what, v.lines.Err())
		}
		text, isData := strings.CutPrefix(v.lines.Text(), "data: ")
		if !isData || text == "1" {
			continue
		}
		v.now = web.Event{}
		err := json.Unmarshal([]byte(text), &v.parts)
		whole, err2 := json.Marshal(v.parts)
		if err := errors.Join(err, err2, json.Unmarshal(whole, &v.now)); err != nil {
			v.t.Fatal(err)
		}
	}
}

// question waits for one after that of a number.
func (v *viewer) question(after uint64) web.Question {
	v.t.Helper()
	v.until("a question", func(e web.Event) bool { return e.Question != nil && e.Question.Text != "" && e.Question.N > after })
	return *v.now.Question
}

// answerAll says yes until a step is on whose count is beyond a number, or nothing is left to do.
func (b *bench) answerAll(v *viewer, after uint64, step string, count int) (last web.Question) {
	b.t.Helper()
	for {
		v.until("a question, or "+step, func(e web.Event) bool {
			return e.Question != nil && e.Question.Text != "" && e.Question.N > after || isOn(e, step, count)
		})
		if isOn(v.now, step, count) {
			return last
		}
		last = *v.now.Question
		after = last.N
		if len(last.Choices) == 0 {
			return last
		}
		if code, said := b.post("answer", fmt.Sprintf(`{"n":%d,"choice":0}`, last.N)); code != http.StatusOK {
			b.t.Fatalf("%q: %d %s", last.Text, code, said)
		}
	}
}

// isOn says whether a step is under way beyond a count.
func isOn(e web.Event, step string, count int) bool {
	return e.BringUp != nil && e.BringUp.Now == step && e.BringUp.Count.Done >= count && count > 0
}

// stateOf is that of a step on the page.
func stateOf(e web.Event, name string) string {
	for _, s := range e.BringUp.Steps {
		if s.Name == name {
			return s.State
		}
	}
	return "none"
}

// A machine that is built other than drawn is brought up by requests alone, with a stop and a
// reload in mid-step; what it measured is as true as at the terminal.
func TestWholeBringUpByThePage(t *testing.T) {
	if testing.Short() {
		t.Skip("a whole bring-up on the twin, some forty seconds of one core")
	}
	file := &measured.File{}
	b := open(t, "askew", file)
	v := b.view()
	last := b.answerAll(v, 0, "axes", 5)
	if code, said := b.post("halt", ""); code != http.StatusOK {
		t.Fatalf("stop in mid-step: %d %s", code, said)
	}
	q := v.question(last.N)
	if !strings.HasPrefix(q.Text, "Stopped") || v.now.Halted == nil || !*v.now.Halted || stateOf(v.now, "axes") != "now" {
		t.Errorf("after the stop: %q, halted %v, axes %q", q.Text, v.now.Halted, stateOf(v.now, "axes"))
	}
	b.answerAll(v, q.N-1, "axes", 3)
	fresh := b.view() // as after a reload
	fresh.until("what there is", func(e web.Event) bool { return e.BringUp != nil })
	if now := fresh.now.BringUp; now.Now != "axes" || now.Count.Of == 0 || stateOf(fresh.now, "camera") != "done" || len(fresh.now.Log) == 0 || fresh.now.Picture == 0 {
		t.Errorf("a page that was loaded anew in mid-step shows step %q, %d of %d", now.Now, now.Count.Done, now.Count.Of)
	}
	q = b.answerAll(v, v.now.Question.N, "", 0)
	if !strings.Contains(q.Text, "brought up") || len(b.kept) != 1 || b.saved != len(bringup.Steps) {
		t.Errorf("at the end: %q, %d records, saved %d times", q.Text, len(b.kept), b.saved)
	}
	b.holds(file)
	b.shows(fresh)
}

// holds compares what was measured with the twin's truth, within what is asked of a bring-up.
func (b *bench) holds(f *measured.File) {
	b.t.Helper()
	q, err := twin.Askew(b.rig)
	if err != nil {
		b.t.Fatal(err)
	}
	for _, c := range []struct {
		name             string
		got, want, allow float64
	}{
		{"x travel over the field, mm", 320 * (f.Axes.Scale[0] - 1), 320 * q.Stretch[0], 0.15},
		{"skew, deg", f.Axes.Skew.Degrees(), q.Skew * 180 / math.Pi, 0.05},
		{"centre x, mm", f.Axes.Centre[0].MM() - b.rig.Axis.X.Origin.MM(), q.MachineShift.X * 1e3, 0.15},
		{"backlash y, mm", f.Axes.Backlash[1].MM(), b.rig.Axis.Y.Backlash.MM() + q.Play[1]*1e3, 0.15},
	} {
		if math.Abs(c.got-c.want) > c.allow {
			b.t.Errorf("%s: %.3f, truly %.3f", c.name, c.got, c.want)
		}
	}
}

// shows compares a page at the end with what was measured, and looks at the papers.
func (b *bench) shows(v *viewer) {
	b.t.Helper()
	v.until("the end", func(e web.Event) bool { return e.State == web.Over && e.BringUp.Now == "" })
	for _, s := range v.now.BringUp.Steps {
		if s.State != "done" {
			b.t.Errorf("%s is %q at the end", s.Name, s.State)
		}
		if s.Name != "axes" {
			continue
		}
		want := fmt.Sprintf("%.4f", b.file.Axes.Scale[0])
		if f := s.Figures[0]; f.Planned != "1.0000" || f.Measured != want || !strings.HasPrefix(f.Sigma, "± 0.0") || !f.Off || f.Cause == "" {
			b.t.Errorf("the x axis on the page: %+v; want %s", f, want)
		}
	}
	for name, begins := range map[string]string{"residuals.svg": "<svg", "record.html": "<!DOCTYPE html>", "record.pdf": "%PDF-"} {
		r, err := http.Get(b.url + "/papers/" + name)
		if err != nil {
			b.t.Fatal(err)
		}
		text, err := io.ReadAll(r.Body)
		_ = r.Body.Close()
		if err != nil || r.StatusCode != http.StatusOK || !strings.Contains(string(text[:min(200, len(text))]), begins) || strings.Contains(r.Header.Get("Content-Security-Policy"), "script") {
			b.t.Errorf("%s: %d, %v, %.80q", name, r.StatusCode, err, text)
		}
	}
}

// An answer to a question that was settled does nothing, whoever sends it: not twice, not with
// the number of an earlier program's page, and not a leaving or doing again.
func TestLateAnswersDoNothing(t *testing.T) {
	file := &measured.File{}
	b := open(t, "exact", file)
	one, two := b.view(), b.view()
	first := one.question(0)
	if same := two.question(0); same.N != first.N || len(first.Choices) != 1 {
		t.Fatalf("two pages are asked %+v and %+v", first, same)
	}
	if code, said := b.post("step", fmt.Sprintf(`{"n":%d,"do":"again","step":"axes"}`, first.N)); code != http.StatusConflict || !strings.Contains(said, "cautions") {
		t.Errorf("axes before the cautions: %d %s", code, said)
	}
	if code, said := b.post("answer", fmt.Sprintf(`{"n":%d,"choice":0}`, first.N)); code != http.StatusOK {
		t.Fatalf("the answer: %d %s", code, said)
	}
	second := one.question(first.N)
	for what, body := range map[string]string{
		"answer": fmt.Sprintf(`{"n":%d,"choice":0}`, first.N),
		"step":   fmt.Sprintf(`{"n":%d,"do":"later"}`, first.N),
	} {
		if code, said := b.post(what, body); code != http.StatusConflict || !strings.Contains(said, "settled") {
			t.Errorf("a late %s: %d %s", what, code, said)
		}
	}
	if now := two.question(first.N); now.N != second.N || stateOf(two.now, "lens") != "now" {
		t.Errorf("the second page is asked %+v, the first %+v", now, second)
	}
	if code, said := b.post("step", fmt.Sprintf(`{"n":%d,"do":"later"}`, second.N)); code != http.StatusOK {
		t.Errorf("leaving the lens for later: %d %s", code, said)
	}
	one.question(second.N)
	if stateOf(one.now, "lens") != "later" || stateOf(one.now, "camera") != "now" || file.Lens != nil {
		t.Errorf("lens is %q, camera %q", stateOf(one.now, "lens"), stateOf(one.now, "camera"))
	}
	again := open(t, "exact", file) // the program was killed and started again
	if q := again.view().question(0); q.N <= first.N || !strings.HasPrefix(q.Text, "Have you the camera target") {
		t.Errorf("the next program asks %+v; the one before had %d", q, first.N)
	}
}

// What was measured stays where measuring it again is broken off.
func TestBrokenOffAgainKeepsWhatWasMeasured(t *testing.T) {
	done := &measured.Done{When: "2026-01-02T03:04:05Z"}
	lens := &measured.Lens{When: "2026-01-02T03:04:05Z"}
	file := &measured.File{Cautions: done, Controller: done, Lens: lens}
	b := open(t, "exact", file)
	v := b.view()
	q := v.question(0)
	if code, said := b.post("step", fmt.Sprintf(`{"n":%d,"do":"again","step":"lens"}`, q.N)); code != http.StatusOK {
		t.Fatalf("again: %d %s", code, said)
	}
	q = v.question(q.N)
	if code, _ := b.post("halt", ""); code != http.StatusOK || !strings.HasPrefix(q.Text, "Have you the camera target") {
		t.Fatalf("asked %q", q.Text)
	}
	q = v.question(q.N)
	if code, _ := b.post("step", fmt.Sprintf(`{"n":%d,"do":"later"}`, q.N)); code != http.StatusOK {
		t.Fatalf("asked %q", q.Text)
	}
	q = v.question(q.N)
	if file.Lens != lens || stateOf(v.now, "camera") != "now" || stateOf(v.now, "lens") != "done" {
		t.Errorf("the lens is %+v, %q; asked %q", file.Lens, stateOf(v.now, "lens"), q.Text)
	}
}
