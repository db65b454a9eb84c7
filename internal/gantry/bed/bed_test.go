// SPDX-License-Identifier: Apache-2.0

package bed

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"boardhand/internal/frame"
	"boardhand/internal/gantry/clock"
	"boardhand/internal/gantry/wire"
)

// turned is a world that notes where it was turned to.
type turned struct {
	at      frame.Spot[frame.Machine]
	lift    float64
	seconds float64
	fastest float64 // m/s
}

func (w *turned) Turn(to frame.Spot[frame.Machine], lift, seconds float64) {
	if seconds > 0 {
		w.fastest = max(w.fastest, to.Distance(w.at)/seconds)
	}
	w.at, w.lift, w.seconds = to, lift, w.seconds+seconds
}

func machine(lift string) Build {
	a := Axis{PerMM: 80, Travel: 336, Speed: 120, Accel: 400, Start: 50, Port: "outA", Counts: 360, Free: 4}
	y := a
	y.Port = "outB, -outC"
	return Build{Axes: [2]Axis{a, y}, Drop: 20, Speed: 40, Lift: lift, LiftPort: "outD", Settle: time.Second, Baud: 115200}
}

// talk sends lines and waits for the answer of each.
type talk struct {
	t  *testing.T
	in *bufio.Reader
	io.Writer
}

func begin(t *testing.T, l *Lines) *talk {
	t.Helper()
	w, err := l.Open()
	if err != nil {
		t.Fatal(err)
	}
	return &talk{t, bufio.NewReader(w), w}
}

func (k *talk) say(lines ...string) {
	k.t.Helper()
	for _, line := range lines {
		if _, err := k.Write([]byte(line + "\n")); err != nil {
			k.t.Fatal(err)
		}
		for {
			answer, err := k.in.ReadString('\n')
			if err != nil || strings.HasPrefix(answer, "error") || strings.HasPrefix(answer, "ALARM") {
				k.t.Fatalf("%s: %q, %v", line, answer, err)
			}
			if strings.HasPrefix(answer, "ok") {
				break
			}
		}
	}
}

// The world goes where the controller's motors truly went: at the speed and for the time
// of its planner, and the lift with its axis or its output.
func TestTheWorldFollows(t *testing.T) {
	for lift, words := range map[string][2]string{"axis": {"G53G1Z-2F2400", "G53G1Z-22F2400"}, "spindle": {"M3S700", "M5"}, "coolant": {"M8", "M9"}} {
		w, c := &turned{at: frame.Spot[frame.Machine]{X: 0.05, Y: 0.05}}, clock.NewVirtual()
		l := NewLines(machine(lift), w, c, wire.NewCommands(0, 1))
		k := begin(t, l)
		k.say("$H")
		if d := w.at.Norm(); d > 0.05e-3 || w.lift != 0 {
			t.Errorf("%s: homed at %v, lift %.3f", lift, w.at, w.lift)
		}
		w.seconds, w.fastest = 0, 0
		k.say("G53G1X-236Y-336F6000", "G4P0.01") // 100 mm at 100 mm/s
		if d := w.at.Distance(frame.Spot[frame.Machine]{X: 0.1}); d > 0.05e-3 || math.Abs(w.fastest-0.1) > 0.015 || math.Abs(w.seconds-1.25) > 0.03 {
			t.Errorf("%s: at %v after %.3f s, %.3f m/s", lift, w.at, w.seconds, w.fastest)
		}
		for i, want := range [2]float64{1, 0} {
			if k.say(words[i], "G4P1"); w.lift != want {
				t.Errorf("%s: %s has the lift at %.3f", lift, words[i], w.lift)
			}
		}
		if !l.IsKnown() {
			t.Errorf("%s: the place is not known", lift)
		}
		l.Close()
	}
}

// An axis that something holds loses its steps: the world stays where the carriage stayed
// and the place is unknown, though the controller says otherwise.
func TestLostSteps(t *testing.T) {
	w, c := &turned{}, clock.NewVirtual()
	l := NewLines(machine("axis"), w, c, wire.NewCommands(0, 1))
	defer l.Close()
	k := begin(t, l)
	k.say("$H", "G53G1X-300F6000", "G4P0.01")
	l.machine.Hold(0)
	k.say("G53G1X-290", "G4P0.01")
	l.machine.Free(0)
	k.say("G53G1X-280", "G4P0.01")
	if d := w.at.X - 0.046; math.Abs(d) > 0.05e-3 || l.IsKnown() || math.Abs(l.Counts().Missed-10) > 0.1 {
		t.Errorf("at %.2f mm, known %v, %+v", w.at.X*1e3, l.IsKnown(), l.Counts())
	}
}

// A line that the wire keeps back runs the planner dry, and that is put down to the wire; one
// that its sender keeps back as long is not.
func TestDryByAWireThatIsLate(t *testing.T) {
	for _, isWire := range []bool{true, false} {
		w, c := &turned{}, clock.NewVirtual()
		l := NewLines(machine("axis"), w, c, wire.NewCommands(0, 1))
		k := begin(t, l)
		k.say("$H", "G53G1X-336Y-336F6000", "G4P0.01", "G53G1X-320")
		c.Wait(400 * time.Millisecond) // 16 mm at 100 mm/s and 400 mm/s² take 0.4 s: it has just come to its end
		if isWire {
			l.mu.Lock()
			l.lateAt = c.Passed() + 50*time.Millisecond
			l.mu.Unlock()
		}
		c.Wait(50 * time.Millisecond)
		k.say("G53G1X-300", "G4P0.01")
		want := Counts{Starved: 1}
		if isWire {
			want = Counts{Delayed: 1}
		}
		if got := l.Counts(); got.Starved != want.Starved || got.Delayed != want.Delayed {
			t.Errorf("by the wire %v: ran dry %d times, kept dry %d times", isWire, got.Starved, got.Delayed)
		}
		l.Close()
	}
}

// A plug that is pulled breaks the wire; the device comes back later, by another name,
// and the controller starts anew, not homed.
func TestPlugPulled(t *testing.T) {
	w, c := &turned{}, clock.NewVirtual()
	l := NewLines(machine("axis"), w, c, wire.NewCommands(0, 1))
	defer l.Close()
	k, name := begin(t, l), l.Name()
	k.say("$H")
	l.mu.Lock()
	l.unplug()
	l.mu.Unlock()
	if _, err := k.Write([]byte("G4P0.01\n")); err == nil {
		t.Error("wrote to a pulled plug")
	}
	if _, err := k.in.ReadString('\n'); err == nil {
		t.Error("read from a pulled plug")
	}
	if _, err := l.Open(); l.backAt > c.Passed() && err == nil {
		t.Error("opened a pulled plug")
	}
	c.Wait(5 * time.Second)
	k = begin(t, l)
	if l.Name() == name || l.IsKnown() {
		t.Errorf("%s is %s again, known %v", name, l.Name(), l.IsKnown())
	}
	if k.say("$H"); !l.IsKnown() {
		t.Error("homed, and yet not known")
	}
}

// A tacho motor that is pulled out comes back by another number, and the place is unknown
// until the machine stands at its end again; the world went where the motors turned.
func TestTachoMotors(t *testing.T) {
	w, c := &turned{at: frame.Spot[frame.Machine]{X: 0.05, Y: 0.05}}, clock.NewVirtual()
	m := NewTacho(machine(""), w, c, wire.NewCommands(0, 1))
	defer m.Close()
	names, _ := m.List()
	x := names[0]
	if text, err := m.Read(x + "/address"); err != nil || strings.TrimSpace(text) != "ports:outA" {
		t.Fatal(text, err)
	}
	for _, a := range [][2]string{{"duty_cycle_sp", "50"}, {"command", "run-direct"}} {
		if err := m.Write(x+"/"+a[0], a[1]); err != nil {
			t.Fatal(err)
		}
	}
	c.Wait(time.Second)
	_ = m.Write(x+"/command", "stop")
	c.Wait(time.Second)
	text, _ := m.Read(x + "/position")
	var n int
	if _, err := fmt.Sscan(text, &n); err != nil || n < 100 || math.Abs(w.at.X-0.05-float64(n)/80e3) > 0.1e-3 {
		t.Errorf("%d counts, at %.2f mm: %v", n, w.at.X*1e3, err)
	}
	m.mu.Lock()
	m.unplug(x + "/position")
	m.mu.Unlock()
	if _, err := m.Read(x + "/position"); !os.IsNotExist(err) || m.IsKnown() {
		t.Errorf("a motor that is out: %v, known %v", err, m.IsKnown())
	}
	c.Wait(5 * time.Second)
	again, _ := m.List()
	if len(again) != len(names) || again[0] == x {
		t.Errorf("%v, then %v", names, again)
	}
}
