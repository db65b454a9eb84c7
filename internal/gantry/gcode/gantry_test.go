// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"boardhand/internal/gantry"
	"boardhand/internal/motion"
	"boardhand/internal/rig"
	"boardhand/internal/table/carriage"
)

var _ carriage.Gantry = (*Gantry)(nil)

// benchRig is the built-in rig with belts, stepper motors and a gcode controller.
func benchRig(t testing.TB, lines ...string) *rig.Rig {
	t.Helper()
	text := strings.Replace(rig.DefaultText, `kind = "twin"               #`, "kind = \"gcode\"\nport = \"none\"\n"+strings.Join(lines, "\n")+"\n#", 1)
	text = strings.ReplaceAll(text, "drive = \"rack\"", "drive = \"belt\"\npitch = \"2 mm\"")
	text = strings.ReplaceAll(text, "teeth = 16", "teeth = 20")
	text = strings.ReplaceAll(text, "module = \"1 mm\"\n", "")
	text = strings.ReplaceAll(text, "counts = 360 ", "counts = 3200 ")
	text = strings.ReplaceAll(text, "counts = 360\n", "counts = 3200\n")
	r, err := rig.Parse("rig.toml", []byte(text), rig.Machine)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// bench is a gantry with a peer at the other end of its wire.
type bench struct {
	*Gantry
	peer *peer
	said []string
}

func newBench(t testing.TB, lines ...string) *bench {
	t.Helper()
	b := &bench{}
	p, wire := newPeer()
	b.peer = p
	opened := false
	g, err := New(benchRig(t, lines...), func() (io.ReadWriteCloser, error) {
		if opened {
			return nil, errors.New("unplugged")
		}
		opened = true
		return wire, nil
	}, func(s string) { b.said = append(b.said, s) })
	if err != nil {
		t.Fatal(err)
	}
	b.Gantry = g
	return b
}

// with runs a test in time of its own: waiting takes none.
func with(t *testing.T, lines []string, run func(*testing.T, *bench)) {
	t.Helper()
	synctest.Test(t, func(t *testing.T) {
		b := newBench(t, lines...)
		defer finish(b.Gantry)
		run(t, b)
	})
}

// finish closes a gantry and lets the goroutines of its peer end.
func finish(g *Gantry) {
	_ = g.Close()
	time.Sleep(time.Second)
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func (b *bench) home(t *testing.T) {
	t.Helper()
	_, err := b.Home(t.Context())
	must(t, err)
}

// across is a stroke over the field and round a corner.
func across() motion.Stroke {
	return motion.Stroke{Path: []spot{{}, {X: 0.05}, {X: 0.09, Y: 0.06}}, Speed: 0.1, Accel: 0.3, Jerk: 3, Blend: motion.Blend}
}

// Homing, strokes and the lift, as the contract of carriage.Gantry has them.
func TestHomeMoveLift(t *testing.T) {
	with(t, nil, func(t *testing.T, b *bench) {
		if _, err := b.Move(t.Context(), across()); !errors.Is(err, gantry.ErrNoHome) {
			t.Fatalf("moved before homing: %v", err)
		}
		at, err := b.Home(t.Context())
		must(t, err)
		if at != (spot{}) {
			t.Errorf("after homing at %v, want zero", at)
		}
		at, err = b.Move(t.Context(), across())
		must(t, err)
		if at.Distance(spot{X: 0.09, Y: 0.06}) > 1e-5 {
			t.Errorf("ended at %v", at)
		}
		must(t, b.Lift(t.Context(), true))
		if b.peer.at[2] != -8 { // homed at -28, drop 20 mm
			t.Errorf("raised, z is %v", b.peer.at[2])
		}
		must(t, b.Lift(t.Context(), false))
		if b.peer.at[2] != -28 {
			t.Errorf("lowered, z is %v", b.peer.at[2])
		}
		finish(b.Gantry)
		if len(b.said) > 0 {
			t.Errorf("said %q", b.said)
		}
		if b.peer.most > 128 || b.peer.dry > 3 || b.dry > 0 {
			t.Errorf("%d bytes lay in the buffer, %d times dry, %d seen", b.peer.most, b.peer.dry, b.dry)
		}
	})
}

// A servo, a relay: the words that the rig file names, and time to settle.
func TestLiftWords(t *testing.T) {
	for _, c := range []struct {
		lines    []string
		up, down string
	}{
		{[]string{`lift = "coolant"`}, "M8 G4P0.2", "M9 G4P0.2"},
		{[]string{`lift = "spindle"`, `lift_up = 700`}, "M3S700 G4P0.2", "M5 G4P0.2"},
		{[]string{`lift = "spindle"`, `lift_up = 700`, `lift_down = 90`, `settle = "350 ms"`}, "M3S700 G4P0.35", "M3S90 G4P0.35"},
	} {
		with(t, c.lines, func(t *testing.T, b *bench) {
			b.home(t)
			if got := strings.Join(b.peer.lines[2:6], " "); got != "$X "+c.down+" $H" {
				t.Errorf("before homing: %s", got)
			}
			for raised, want := range map[bool]string{true: c.up, false: c.down} {
				n := len(b.peer.lines)
				must(t, b.Lift(t.Context(), raised))
				if got := strings.Join(b.peer.lines[n:], " "); got != want {
					t.Errorf("raised %v: %q, want %q", raised, got, want)
				}
			}
		})
	}
}

// What the controller is set to is compared before anything moves.
func TestDifferencesAreToldBeforeMoving(t *testing.T) {
	for n, c := range map[int][2]string{
		100: {"250.000", "$100 is 250.000 steps/mm and the rig file's axis.x.motor.counts gives 80.000: type $100=80.000"},
		111: {"500.000", "$111 is 500.000 mm/min and the rig file's axis.y.speed gives 7200.000: type $111=7200.000"},
		120: {"10.000", "$120 is 10.000 mm/s² and the rig file's axis.x.acceleration gives 400.000: type $120=400.000"},
		131: {"200.000", "$131 is 200.000 mm and the rig file's axis.y.travel, and what $27 backs off, need 338.000: type $131=338.000"},
		20:  {"0", "type $20=1"},
		22:  {"0", "homing is switched off; type $22=1"},
		23:  {"4", "type $23=7"},
		13:  {"1", "type $13=0"},
		10:  {"2", "positions come in work coordinates; type $10=3"},
		132: {"10.000", "type $132=22.000"},
	} {
		with(t, nil, func(t *testing.T, b *bench) {
			b.peer.settings[n] = c[0]
			_, err := b.Home(t.Context())
			if err == nil || !strings.Contains(err.Error(), c[1]) {
				t.Errorf("$%d: said %v, want %q", n, err, c[1])
			}
			if got := strings.Join(b.peer.lines, " "); got != "$I $$" {
				t.Errorf("$%d: sent %q", n, got)
			}
			_, err = b.Move(t.Context(), across())
			if !errors.Is(err, gantry.ErrNoHome) {
				t.Errorf("$%d: moved: %v", n, err)
			}
		})
	}
}

// No line is sent for a place beyond the travel.
func TestSoftLimits(t *testing.T) {
	with(t, nil, func(t *testing.T, b *bench) {
		b.home(t)
		n := len(b.peer.lines)
		for _, p := range []spot{{X: 0.337, Y: 0.1}, {X: 0.1, Y: -0.001}, {X: math.NaN(), Y: 0}} {
			s := across()
			s.Path = append(s.Path, p)
			if _, err := b.Move(t.Context(), s); err == nil || !strings.Contains(err.Error(), "cannot go to") {
				t.Errorf("%v: %v", p, err)
			}
		}
		if len(b.peer.lines) != n {
			t.Errorf("sent %q", b.peer.lines[n:])
		}
	})
}

// Whatever does not fit the protocol in the middle of a stroke: feed hold and reset
// go out, no line after them, and nothing moves before homing.
func TestLostSyncStopsEverything(t *testing.T) {
	at := func(n int, text string) func(int, string) string {
		return func(k int, ok string) string {
			if k == n {
				return text
			}
			return ok
		}
	}
	for name, c := range map[string]struct {
		say  func(int, string) string
		want string
	}{
		"a lost ok":     {at(12, ""), "unanswered"},
		"a doubled ok":  {at(12, "ok\r\nok\r\n"), "answered"},
		"half a line":   {at(12, "o"), "no reply"},
		"half an ok":    {at(12, "k\r\n"), "no reply"},
		"garbage":       {at(12, "\xff\x00~~\r\n"), "no reply"},
		"no line end":   {at(12, strings.Repeat("x", 400)), "no reply"},
		"a banner":      {at(12, "\r\nGrbl 1.1h ['$' for help]\r\n"), "started anew"},
		"an alarm":      {at(12, "ALARM:1\r\n"), "limit switch was hit"},
		"an error":      {at(12, "error:20\r\n"), "does not know a word"},
		"half a status": {at(12, "<Run|MPos:1.0\r\nok\r\n"), "no reply"},
		"work":          {at(12, "<Run|WPos:1.0,2.0,3.0>\r\nok\r\n"), "type $10=1"},
		"a setting":     {at(12, "$100=80.000\r\nok\r\n"), "setting that nobody asked for"},
	} {
		t.Run(name, func(t *testing.T) {
			with(t, nil, func(t *testing.T, b *bench) {
				b.home(t)
				b.peer.say = c.say
				_, err := b.Move(t.Context(), across())
				if err == nil || !strings.Contains(err.Error(), c.want) {
					t.Fatalf("said %v, want %q", err, c.want)
				}
				time.Sleep(time.Second)
				synctest.Wait()
				if s := string(b.peer.realtime); !strings.HasSuffix(strings.ReplaceAll(s, "?", ""), "!\x18") {
					t.Errorf("no hold and reset at the end: %q", s)
				}
				n := len(b.peer.lines)
				if _, err := b.Move(t.Context(), across()); !errors.Is(err, gantry.ErrNoHome) {
					t.Errorf("moved: %v", err)
				}
				if err := b.Lift(t.Context(), true); !errors.Is(err, gantry.ErrNoHome) {
					t.Errorf("lifted: %v", err)
				}
				synctest.Wait()
				if len(b.peer.lines) != n || len(b.said) != 1 {
					t.Errorf("sent %q, said %q", b.peer.lines[n:], b.said)
				}
				b.peer.say = nil
				b.home(t)
				_, err = b.Move(t.Context(), across())
				must(t, err)
			})
		})
	}
}

// The wire breaks: nothing moves, and Home opens it anew.
func TestDisconnect(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var peers []*peer
		g, err := New(benchRig(t), func() (io.ReadWriteCloser, error) {
			p, wire := newPeer()
			peers = append(peers, p)
			return wire, nil
		}, nil)
		must(t, err)
		_, err = g.Home(t.Context())
		must(t, err)
		go func() {
			time.Sleep(500 * time.Millisecond)
			_ = peers[0].wire.Close()
		}()
		if _, err = g.Move(t.Context(), across()); err == nil || !strings.Contains(err.Error(), "plug it in") {
			t.Errorf("said %v", err)
		}
		if err = g.Lift(t.Context(), false); !errors.Is(err, gantry.ErrNoHome) {
			t.Errorf("lifted: %v", err)
		}
		_, err = g.Home(t.Context())
		must(t, err)
		_, err = g.Move(t.Context(), across())
		must(t, err)
		if len(peers) != 2 {
			t.Errorf("opened %d times", len(peers))
		}
		finish(g)
	})
}

// Halt in the middle of a stroke: the hold goes out at once, the stroke ends with
// gantry.ErrHalted, and nothing but Home moves again.
func TestHalt(t *testing.T) {
	for _, lines := range [][]string{nil, {`lift = "coolant"`}} {
		with(t, lines, func(t *testing.T, b *bench) {
			b.home(t)
			must(t, b.Lift(t.Context(), true))
			began := time.Now()
			held := make(chan time.Duration, 1)
			go func() {
				time.Sleep(700 * time.Millisecond)
				must(t, b.Halt())
				held <- time.Since(began)
			}()
			at, err := b.Move(t.Context(), across())
			if took := <-held; !errors.Is(err, gantry.ErrHalted) || took != 700*time.Millisecond {
				t.Errorf("%v; halted after %v", err, took)
			}
			time.Sleep(time.Minute)
			stands := spot{X: (b.peer.at[0] + 336) / 1e3, Y: (b.peer.at[1] + 336) / 1e3}
			if at.Distance(stands) > 2e-6 || stands.X < 0.003 || stands.X > 0.08 {
				t.Errorf("said %v, stands at %v", at, stands)
			}
			if lines != nil && b.peer.spindle != "M8" {
				t.Errorf("the lift fell: %q", b.peer.spindle)
			}
			if lines == nil && b.peer.at[2] != -8 {
				t.Errorf("the lift fell: %v", b.peer.at[2])
			}
			if _, err = b.Move(t.Context(), across()); !errors.Is(err, gantry.ErrHalted) {
				t.Errorf("moved: %v", err)
			}
			if err = b.Lift(t.Context(), false); !errors.Is(err, gantry.ErrHalted) {
				t.Errorf("lifted: %v", err)
			}
			b.home(t)
			_, err = b.Move(t.Context(), across())
			must(t, err)
		})
	}
}

// Halt while homing resets the controller, and holds.
func TestHaltWhileHoming(t *testing.T) {
	with(t, nil, func(t *testing.T, b *bench) {
		go func() {
			time.Sleep(2 * time.Second)
			must(t, b.Halt())
		}()
		if _, err := b.Home(t.Context()); !errors.Is(err, gantry.ErrHalted) {
			t.Errorf("said %v", err)
		}
		synctest.Wait()
		if b.peer.state != "Alarm" || b.peer.dwells > 0 {
			t.Errorf("still %s", b.peer.state)
		}
		if _, err := b.Move(t.Context(), across()); !errors.Is(err, gantry.ErrHalted) {
			t.Errorf("moved: %v", err)
		}
		b.home(t)
	})
}

// A stroke that is called off stops, and the position stays known.
func TestContextEndsAStroke(t *testing.T) {
	with(t, nil, func(t *testing.T, b *bench) {
		b.home(t)
		ctx, cancel := context.WithTimeout(t.Context(), 800*time.Millisecond)
		defer cancel()
		at, err := b.Move(ctx, across())
		if !errors.Is(err, context.DeadlineExceeded) {
			t.Errorf("said %v", err)
		}
		s := across()
		s.Path[0] = at
		_, err = b.Move(t.Context(), s)
		must(t, err)
		must(t, b.Lift(t.Context(), false))
		if _, err := b.Move(ctx, s); !errors.Is(err, context.DeadlineExceeded) {
			t.Errorf("moved with an ended context: %v", err)
		}
	})
}

// A second motion does not begin while one runs.
func TestBusy(t *testing.T) {
	with(t, nil, func(t *testing.T, b *bench) {
		b.home(t)
		done := make(chan error)
		go func() {
			_, err := b.Move(t.Context(), across())
			done <- err
		}()
		time.Sleep(100 * time.Millisecond)
		if err := b.Lift(t.Context(), true); !errors.Is(err, gantry.ErrBusy) {
			t.Errorf("lifted: %v", err)
		}
		must(t, <-done)
	})
}

// A silent device is given up with what to look at; an older firmware is named.
func TestNoBanner(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		a, z := newPipe(), newPipe()
		g, err := New(benchRig(t), func() (io.ReadWriteCloser, error) { return end{a, z}, nil }, nil)
		must(t, err)
		if _, err := g.Home(t.Context()); !errors.Is(err, errSilent) {
			t.Errorf("said %v", err)
		}
		go func() {
			time.Sleep(500 * time.Millisecond)
			_, _ = a.Write([]byte("\r\nGrbl 0.9j ['$' for help]\r\n"))
		}()
		if _, err := g.Home(t.Context()); err == nil || !strings.Contains(err.Error(), "install version 1.1") {
			t.Errorf("said %v", err)
		}
		finish(g)
	})
}

// Random strokes: every byte fits the buffer, the planner never runs dry within
// a stroke, and each ends where it should.
func TestRandomStrokes(t *testing.T) {
	const seed = 5
	t.Log("seed", seed)
	rnd := rand.New(rand.NewPCG(seed, 0))
	with(t, nil, func(t *testing.T, b *bench) {
		b.home(t)
		for range 40 {
			_, s := randomStroke(rnd)
			s.Path[0] = b.here()
			at, err := b.Move(t.Context(), s)
			must(t, err)
			if want := s.Path[len(s.Path)-1]; at.Distance(want) > 2e-5 {
				t.Errorf("ended at %v, want %v", at, want)
			}
		}
		if b.peer.most > 128 || b.peer.dry > 40 || b.dry > 0 {
			t.Errorf("%d bytes lay in the buffer, %d times dry in 40 strokes, %d seen", b.peer.most, b.peer.dry, b.dry)
		}
		if b.peer.gap < 200*time.Millisecond { // the firmware's published interface description: five a second
			t.Errorf("asked again after %v", b.peer.gap)
		}
		t.Logf("%d lines, %d bytes in the buffer at most, %d questions", len(b.peer.lines), b.peer.most, len(b.peer.realtime))
	})
}

// At most one complaint a second.
func TestComplaintsAreFew(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var said []string
		g := &Gantry{clock: gantry.RealTime{}, complain: func(s string) { said = append(said, s) }}
		for i := range 30 {
			g.distrust(fmt.Errorf("fault %d", i))
			time.Sleep(100 * time.Millisecond)
		}
		if len(said) != 3 || said[1] != "fault 10 (and 9 complaints before)" {
			t.Errorf("said %q", said)
		}
	})
}
