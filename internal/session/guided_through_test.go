// SPDX-License-Identifier: Apache-2.0

package session

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"boardhand/internal/bringup"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/gantry"
	"boardhand/internal/measured"
	"boardhand/internal/motion"
	"boardhand/internal/rehearsal"
	"boardhand/internal/rig"
	"boardhand/internal/terminal"
	"boardhand/internal/twin"
	"boardhand/internal/web"
)

// leaf is the page of a bring-up, asked for by HTTP.
type leaf struct {
	t   *testing.T
	url string
}

// now is what a page that is opened now shows.
func (l leaf) now() (e web.Event) {
	l.t.Helper()
	got, err := http.Get(l.url + "/events")
	if err != nil {
		l.t.Fatal(err)
	}
	defer func() { _ = got.Body.Close() }()
	lines := bufio.NewScanner(got.Body)
	lines.Buffer(nil, 1<<22)
	for e.BringUp == nil && lines.Scan() {
		if text, isData := strings.CutPrefix(lines.Text(), "data: "); isData {
			if err := json.Unmarshal([]byte(text), &e); err != nil {
				l.t.Fatal(err)
			}
		}
	}
	return e
}

// post sends an action.
func (l leaf) post(what, body string) {
	l.t.Helper()
	got, err := http.Post(l.url+"/api/"+what, "application/json", strings.NewReader(body))
	if err != nil {
		l.t.Fatal(err)
	}
	defer func() { _ = got.Body.Close() }()
	if said, _ := io.ReadAll(got.Body); got.StatusCode != http.StatusOK {
		l.t.Fatalf("%s %s: %d %s", what, body, got.StatusCode, said)
	}
}

// until says yes to everything but that a checkerboard is at hand, until the page is as wanted.
func (l leaf) until(what string, is func(web.Event) bool) web.Event {
	l.t.Helper()
	for answered := uint64(0); l.t.Context().Err() == nil; time.Sleep(5 * time.Millisecond) {
		e := l.now()
		if is(e) {
			return e
		}
		q := e.Question
		if q == nil || q.Text == "" || q.N <= answered {
			continue
		}
		if e.State == web.Trouble {
			l.t.Fatalf("waiting for %s: %s", what, q.Text)
		}
		choice := 0
		if e.BringUp.Now == "lens" {
			choice = 1
		}
		answered = q.N
		l.post("answer", fmt.Sprintf(`{"n":%d,"choice":%d}`, q.N, choice))
	}
	l.t.Fatalf("waiting for %s", what)
	return web.Event{}
}

// A machine is brought up by the page through the real drivers, on simulated controllers: the stop
// in the middle of the pattern reaches the driver, which must home before anything moves again.
func TestBringUpByThePageThroughADriver(t *testing.T) {
	if testing.Short() {
		t.Skip("most of a bring-up by each of two drivers")
	}
	for _, kind := range []string{"gcode", "tacho"} {
		t.Run(kind, func(t *testing.T) {
			f := BringUpOptions{Page: true, Addr: "127.0.0.1:0", Input: strings.NewReader(""), Twin: TwinMachine{Built: "drawn", Seed: 1, Through: kind}}
			if err := f.check(); err != nil {
				t.Fatal(err)
			}
			said, says := io.Pipe()
			o := &terminal.Out{W: says}
			p, end, err := f.parts(t.Context(), o, rig.Default())
			if err != nil {
				t.Fatal(err)
			}
			driver := p.Gantry.(*rehearsal.Attended)
			p.Save = func(*measured.File) error { return nil }
			file := &measured.File{}
			ctx, stop := context.WithCancel(t.Context())
			ran := make(chan error, 1)
			go func() { ran <- f.byPage(ctx, o, p, file) }()
			lines := bufio.NewReader(said)
			line, err := lines.ReadString('\n')
			if err != nil {
				t.Fatal(err)
			}
			go func() { _, _ = io.Copy(io.Discard, lines) }()
			_, url, _ := strings.Cut(line, "http://")
			url, _, _ = strings.Cut(url, "/bringup")
			page := leaf{t, "http://" + url}
			isAt := func(e web.Event) bool { return e.BringUp.Now == "axes" && e.BringUp.Count.Done >= 3 }
			page.until("the third place", isAt)
			page.post("halt", "")
			e := page.until("the stop", func(e web.Event) bool { return e.State == web.Trouble })
			if !strings.HasPrefix(e.Question.Text, "Stopped") || !*e.Halted {
				t.Errorf("after the stop: %q", e.Question.Text)
			}
			homed := driver.Bed.Counts().Homings
			page.post("answer", fmt.Sprintf(`{"n":%d,"choice":0}`, e.Question.N))
			page.until("the pattern anew", isAt)
			if again := driver.Bed.Counts(); again.Homings != homed+1 || again.Commands < 20 {
				t.Errorf("%d homings before the step began anew, %+v after", homed, again)
			}
			stop()
			if err := <-ran; !errors.Is(err, context.Canceled) {
				t.Error(err)
			}
			end()
			if file.Direction == nil || file.Travel == nil || file.Axes != nil {
				t.Errorf("measured: %+v", file)
			}
		})
	}
}

// Who is not in a controller's time halts its driver in the middle of a stroke, and while
// nothing is on: nothing moves afterwards until it has homed.
func TestHaltFromOutsideReachesTheDriver(t *testing.T) {
	for _, kind := range []string{"gcode", "tacho"} {
		t.Run(kind, func(t *testing.T) {
			b, d, err := SetUpThrough(rig.Default(), chess.Start(), twin.Options{Seed: 1, Pieces: slices.Repeat([]chess.Piece{chess.NoPiece}, 64)}, Through{Kind: kind, Seed: 1, Pace: 4})
			if err != nil {
				t.Fatal(err)
			}
			var g bringup.Gantry = d.Attended(b.pictures())
			defer d.Close()
			home := func() frame.Spot[frame.Machine] {
				at, err := g.Home(t.Context())
				if err != nil {
					t.Fatal(err)
				}
				return at
			}
			run := func(from frame.Spot[frame.Machine], far float64) (frame.Spot[frame.Machine], error) {
				return g.Move(t.Context(), motion.Stroke{Path: []frame.Spot[frame.Machine]{from, from.Add(frame.Spot[frame.Machine]{X: far})}, Speed: 0.1, Accel: 0.4, Jerk: 4})
			}
			from, began := home(), b.World.Truth().Magnet
			halted := make(chan error, 1)
			go func() {
				for b.World.Truth().Magnet.Distance(began) < 20e-3 {
					time.Sleep(time.Millisecond)
				}
				halted <- g.Halt()
			}()
			const far = 0.25
			_, err = run(from, far)
			if went := b.World.Truth().Magnet.Distance(began); !errors.Is(err, gantry.ErrHalted) || went < 20e-3 || went > far-20e-3 {
				t.Errorf("halted at 20 mm: it went %.0f mm: %v", went*1e3, err)
			}
			if err := <-halted; err != nil {
				t.Error(err)
			}
			if _, err := run(from, 0.01); !errors.Is(err, gantry.ErrHalted) {
				t.Errorf("after the halt: %v", err)
			}
			from = home()
			if err := g.Halt(); err != nil {
				t.Error(err)
			}
			if _, err := run(from, 0.01); !errors.Is(err, gantry.ErrHalted) {
				t.Errorf("after a halt at rest: %v", err)
			}
		})
	}
}
