// SPDX-License-Identifier: Apache-2.0

package firmware

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"boardhand/internal/gantry/firmware/blocks"
	"boardhand/internal/gantry/firmware/settings"
)

func TestBanner(t *testing.T) {
	b := newBench(t, map[int]float64{settings.Homing: 0})
	if got := b.heard(); len(got) != 1 || got[0] != "Grbl 1.1f ['$' for help]" {
		t.Errorf("without homing: %q", got)
	}
	b = newBench(t, nil)
	if got := b.heard(); !slices.Equal(got, []string{"Grbl 1.1f ['$' for help]", "[MSG:'$H'|'$X' to unlock]"}) {
		t.Errorf("with homing: %q", got)
	}
	if got, _ := b.ask("G0 X1"); got[0] != "error:9" {
		t.Errorf("a move before homing: %q", got)
	}
	if got := b.now("?")[0]; !strings.HasPrefix(got, "<Alarm|MPos:0.000,0.000,0.000|FS:0,0|") {
		t.Errorf("report %q", got)
	}
}

// Homing finds the switches within a step of the slow feed's tick, is not answered
// before it ends, and says nothing to question marks meanwhile.
func TestHoming(t *testing.T) {
	b := newBench(t, nil)
	b.heard()
	b.f.Receive([]byte("$H\n"))
	b.pass(50 * time.Millisecond)
	if got := b.now("?"); got != nil {
		t.Errorf("heard while homing: %q", got)
	}
	b.pass(20 * time.Second)
	if got := b.heard(); !slices.Equal(got, []string{"ok"}) {
		t.Fatalf("heard %q", got)
	}
	if p := b.f.Position(); p != (blocks.Vector{-298, -298, 0}) {
		t.Errorf("says it is at %v", p)
	}
	for i := range 2 {
		if at := b.m.Axis(i); math.Abs(at-2.5) > 0.03 {
			t.Errorf("axis %d is truly at %.3f mm, want switch 0.5 + pull-off 2", i, at)
		}
	}
	if c := b.f.Counters(); c.Homings != 1 || c.Alarms != 0 {
		t.Errorf("%+v", c)
	}
}

func TestHomingAlarms(t *testing.T) {
	for want, spoil := range map[string]func(b *bench){
		"ALARM:9": func(b *bench) { b.m.HasSwitch = false },
		"ALARM:8": func(b *bench) { b.f.set[settings.PullOff] = 0.2 },
		"ALARM:6": func(b *bench) { b.f.Receive([]byte("\x18")) },
		"ALARM:7": func(b *bench) { b.f.Receive([]byte("\x84")) },
	} {
		b := newBench(t, nil)
		if want == "ALARM:8" {
			b.m.SetBacklash(0, 3)
		}
		b.heard()
		b.f.Receive([]byte("$H\n"))
		b.pass(30 * time.Millisecond)
		spoil(b)
		b.pass(60 * time.Second)
		if got := b.heard(); len(got) == 0 || got[0] != want || slices.Contains(got, "ok") {
			t.Errorf("%s: heard %q", want, got)
		}
		if got, _ := b.ask("G0 X-10"); got[0] != "error:9" {
			t.Errorf("%s: a move afterwards: %q", want, got)
		}
	}
}

// A line is answered as soon as it is planned; G4 only when all motion has ended.
func TestAnswersAndSync(t *testing.T) {
	b := homed(t, nil)
	if _, took := b.ask("G1 X-198 F3000"); took > 10*time.Millisecond {
		t.Errorf("a motion was answered after %v", took)
	}
	_, took := b.ask("G4 P0.01")
	if want := 50.0/400 + 100.0/50 + 0.01; math.Abs(took.Seconds()-want) > 0.02 {
		t.Errorf("the end of 100 mm at 50 mm/s was told after %.3f s, want %.3f", took.Seconds(), want)
	}
	if x := b.m.Axis(0); math.Abs(x-102.5) > 0.03 {
		t.Errorf("truly at %.3f mm", x)
	}
}

// Sixteen blocks fit; the seventeenth is answered when the first has been run.
func TestPlannerFills(t *testing.T) {
	b := homed(t, nil)
	long := 0
	for i := range 20 {
		if _, took := b.ask(fmt.Sprintf("G1 X%d F600", -290+8*i%16)); took > 50*time.Millisecond {
			long++
			if i < blocks.Capacity-1 {
				t.Errorf("line %d waited", i+1)
			}
		}
	}
	if long < 3 {
		t.Errorf("only %d lines waited", long)
	}
	if got := b.now("?")[0]; !strings.Contains(got, "<Run|") {
		t.Errorf("report %q", got)
	}
}

// The page's example: lines of 25, 40 and 31 bytes fill 96 of 128; with a fourth of
// 58 the buffer overruns and loses what is too much.
func TestReceiveBufferOverruns(t *testing.T) {
	line := func(n int) string { return strings.Repeat(" ", n-1) + "\n" }
	for _, c := range []struct{ sizes, lost []int }{
		{[]int{25, 40, 31}, []int{0}}, {[]int{25, 40, 31, 58}, []int{25 + 40 + 31 + 58 - 128}},
	} {
		b := homed(t, nil)
		b.tell("G1 X-100 F600")
		b.f.Receive([]byte("G4 P0.01\n")) // holds everything behind it up
		b.pass(10 * time.Millisecond)
		for _, n := range c.sizes {
			b.f.Receive([]byte(line(n)))
		}
		b.pass(100 * time.Millisecond)
		if got := b.f.Counters().Overrun; got != c.lost[0] {
			t.Errorf("%v: %d bytes lost, want %d", c.sizes, got, c.lost[0])
		}
	}
}

// Feed hold slows down and tells Hold:1, then Hold:0; the place is kept and the
// way goes on.
func TestHoldAndResume(t *testing.T) {
	b := homed(t, nil)
	b.tell("G1 X-98 F6000")
	b.pass(time.Second)
	if got := b.now("!?"); !strings.HasPrefix(got[0], "<Hold:1|") {
		t.Errorf("at once: %q", got)
	}
	b.pass(time.Second)
	if got := b.now("?"); !strings.HasPrefix(got[0], "<Hold:0|") {
		t.Errorf("later: %q", got)
	}
	before := b.m.Axis(0)
	b.pass(time.Second)
	if b.m.Axis(0) != before || before > 150 {
		t.Errorf("held at %.3f, then at %.3f mm", before, b.m.Axis(0))
	}
	b.now("~")
	b.tell("G4 P0.01")
	if x := b.m.Axis(0); math.Abs(x-202.5) > 0.03 {
		t.Errorf("truly at %.3f mm", x)
	}
}

// A reset in motion is alarm 3: the machine stands at once and wants homing. After
// a hold it is none.
func TestReset(t *testing.T) {
	b := homed(t, nil)
	b.tell("G1 X-98 F6000")
	b.pass(time.Second)
	got := b.now("\x18")
	if !slices.Equal(got[:3], []string{"ALARM:3", "Grbl 1.1f ['$' for help]", "[MSG:'$H'|'$X' to unlock]"}) {
		t.Errorf("in motion: %q", got)
	}
	if got, _ := b.ask("G0 X-10"); got[0] != "error:9" {
		t.Errorf("afterwards: %q", got)
	}
	b.tell("$H", "G1 X-98 F6000")
	b.pass(time.Second)
	b.now("!")
	b.pass(time.Second)
	if got := b.now("\x18"); !slices.Equal(got, []string{"Grbl 1.1f ['$' for help]"}) {
		t.Errorf("after a hold: %q", got)
	}
	at := b.m.Axis(0)
	b.pass(time.Second)
	if b.m.Axis(0) != at || math.Abs(b.f.Position()[0]+300.5-at) > 0.03 {
		t.Errorf("forgot its way at %.3f and is at %.3f mm, says %.3f", at, b.m.Axis(0), b.f.Position()[0])
	}
	if c := b.f.Counters(); c.Resets != 2 || c.Homings != 2 || c.Alarms != 1 {
		t.Errorf("%+v", c)
	}
}

func TestLimits(t *testing.T) {
	b := homed(t, map[int]float64{settings.SoftLimits: 1})
	if got, _ := b.ask("G0 X1"); got[0] != "ALARM:2" {
		t.Errorf("beyond: %q", got)
	}
	if got := b.now("?"); !strings.HasPrefix(got[len(got)-1], "<Alarm|") {
		t.Errorf("%q", got)
	}
	b.now("\x18")
	b.tell("$X")
	if got, _ := b.ask("$J=X1 F100"); got[0] != "error:15" {
		t.Errorf("jog beyond: %q", got)
	}
	b = homed(t, map[int]float64{settings.HardLimits: 1})
	if got, _ := b.ask("G1 X-310 F600"); got[0] != "ok" {
		t.Errorf("%q", got)
	}
	b.pass(5 * time.Second)
	if got := b.heard(); len(got) == 0 || got[0] != "ALARM:1" {
		t.Errorf("at the switch: %q", got)
	}
	b.f.Receive([]byte("$X\n"))
	b.pass(time.Second)
	if got := b.heard(); got != nil {
		t.Errorf("answered before a reset: %q", got)
	}
}

// A stroke of short blocks, sent while they are run, never starves the queue; the
// same blocks sent one by one as each has ended do, each time.
func TestStarvationIsCounted(t *testing.T) {
	b := homed(t, nil)
	for i := range 40 {
		b.tell(fmt.Sprintf("G1 X%.1f F1200", -297.0+float64(i)))
	}
	b.tell("G4 P0.01")
	if c := b.f.Counters(); c.Starved != 0 || c.Braked != 0 || c.Blocks != 40 {
		t.Errorf("sent ahead: %+v", c)
	}
	b.tell("G1 X-290 F1200", "G4 P0.01") // strokes parted by a sync starve nobody
	for i := range 5 {
		b.tell(fmt.Sprintf("G1 X%d F1200", -288+2*i))
		b.pass(200*time.Millisecond + time.Duration(i)*10*time.Millisecond)
	}
	if c := b.f.Counters(); c.Starved != 4 {
		t.Errorf("sent late: %+v", c)
	}
}

// What is sent while a setting is being written is lost.
func TestWritingLosesBytes(t *testing.T) {
	b := homed(t, nil)
	b.f.Receive([]byte("$110=5000\nG4 P0.01\n"))
	b.pass(100 * time.Millisecond)
	if c := b.f.Counters(); c.Written != len("G4 P0.01\n") {
		t.Errorf("%+v, heard %q", c, b.heard())
	}
	if got, _ := b.ask("$$"); !slices.Contains(got, "$110=5000.000") {
		t.Errorf("%q", got)
	}
}

func TestErrorsOfLines(t *testing.T) {
	b := homed(t, nil)
	for line, want := range map[string]string{"G1 X1": "error:22", "G0 G1 X1": "error:21", "$Z": "error:3", "$110=-1": "error:4", "G0 X1.2.3": "error:1",
		"$J=G1 X1 F1": "error:16", strings.Repeat("(", 90): "error:11", "": "ok", "(note)": "ok", "$I": "ok"} {
		if got, _ := b.ask(line); got[len(got)-1] != want {
			t.Errorf("%q: %q, want %s", line, got, want)
		}
	}
	b.tell("G1 X-290 F60")
	if got, _ := b.ask("$$"); got[0] != "error:8" {
		t.Errorf("settings in motion: %q", got)
	}
}

// A jog is cancelled at once and leaves the place known.
func TestJogCancel(t *testing.T) {
	b := homed(t, nil)
	b.tell("$J=G91 X100 F3000")
	b.pass(500 * time.Millisecond)
	if got := b.now("?"); !strings.HasPrefix(got[0], "<Jog|") {
		t.Errorf("%q", got)
	}
	if got, _ := b.ask("G0 X1"); got[0] != "error:9" {
		t.Errorf("a move in a jog: %q", got)
	}
	b.now("\x85")
	b.pass(time.Second)
	got := b.now("?")
	if x := b.m.Axis(0); !strings.HasPrefix(got[0], "<Idle|") || x > 50 || math.Abs(b.f.Position()[0]+300.5-x) > 0.03 {
		t.Errorf("%q, truly at %.3f mm", got, x)
	}
	b.tell("G91 G0 X1")
}

// The lift on the spindle's output rises only when all motion before it has ended.
func TestSpindleWaitsForMotion(t *testing.T) {
	b := homed(t, nil)
	b.f.Receive([]byte("G1 X-248 F3000\nM3 S1000\nG4 P0.6\n"))
	b.pass(900 * time.Millisecond)
	if b.m.Lifts() != 0 {
		t.Error("the lift rises in motion")
	}
	b.pass(2 * time.Second)
	if b.m.Lifts() != 1 || b.m.Lift(b.f.Now()) != 1 {
		t.Errorf("the lift is at %.2f", b.m.Lift(b.f.Now()))
	}
	if got := b.now("??"); !strings.Contains(strings.Join(got, ""), "|FS:0,1000|") || !strings.Contains(strings.Join(got, ""), "A:S") {
		t.Errorf("%q", got)
	}
}

func TestOverrides(t *testing.T) {
	b := homed(t, nil)
	b.tell("G1 X-98 F3000")
	b.pass(500 * time.Millisecond)
	b.now(strings.Repeat("\x92", 5))
	b.pass(500 * time.Millisecond)
	if got := strings.Join(b.now("??"), ""); !strings.Contains(got, "FS:1500,0") || !strings.Contains(got, "Ov:50,100,100") {
		t.Errorf("%q", got)
	}
}

// Start-up lines are run and told, and their answer is no answer to a line sent.
func TestStartLines(t *testing.T) {
	b := newBench(t, map[int]float64{settings.Homing: 0})
	b.tell("$N0=G91 G20")
	b.heard()
	if got := b.now("\x18"); !slices.Equal(got, []string{"Grbl 1.1f ['$' for help]", ">G91G20:ok"}) {
		t.Errorf("%q", got)
	}
	if got, _ := b.ask("$G"); got[0] != "[GC:G0 G54 G17 G20 G91 G94 M5 M9 T0 F0 S0]" {
		t.Errorf("%q", got)
	}
}

// Whatever bytes come, the firmware stays alive and answers after a reset.
func FuzzBytes(f *testing.F) {
	f.Add([]byte("G1 X10 F100\n?!~\x18$H\n$J=G91X1F100\n\x85"))
	f.Add([]byte("G2X1Y1R1F1\nM0\n~\n$C\nG0X1\n$C\n$SLP\n"))
	f.Fuzz(func(t *testing.T, p []byte) {
		b := newBench(t, map[int]float64{settings.Homing: 0})
		b.f.Receive(p)
		b.pass(5 * time.Second)
		b.now("\x18")
		b.pass(2 * time.Second)
		b.heard()
		if got := b.now("?"); len(got) == 0 || !strings.HasPrefix(got[len(got)-1], "<") {
			t.Errorf("after %q and a reset: %q", p, got)
		}
	})
}
