// SPDX-License-Identifier: Apache-2.0

package tachobed

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"testing/synctest"
	"time"

	"boardhand/internal/gantry/built"
	"boardhand/internal/gantry/clock"
)

// medium is a motor of 360 counts a turn and 1050 counts a second.
var medium = Kind{Address: "outA", PerTurn: 360, MaxSpeed: 1050}

// onBed runs a test on a bed of motors in bubble time; the axes are 400 mm long, of
// 7.2 counts a millimetre, and begin at 100 mm.
func onBed(t *testing.T, kinds []Kind, test func(t *testing.T, b *Bed, m *built.Machine)) {
	t.Helper()
	synctest.Test(t, func(t *testing.T) {
		a := built.Axis{PerMM: 7.2, Length: 400, Start: 100}
		m := built.New(a, a)
		test(t, New(clock.New(1), m, 3, kinds...), m)
	})
}

// put writes attributes of motor3, "speed_sp=500".
func put(t *testing.T, b *Bed, what ...string) {
	t.Helper()
	for _, w := range what {
		name, value, _ := strings.Cut(w, "=")
		if !strings.Contains(name, "motor") {
			name = "motor3/" + name
		}
		if err := b.Write(name, value); err != nil {
			t.Fatal(err)
		}
	}
}

// get reads a number of motor3.
func get(t *testing.T, b *Bed, name string) int {
	t.Helper()
	n, err := strconv.Atoi(text(t, b, name))
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func text(t *testing.T, b *Bed, name string) string {
	t.Helper()
	s, err := b.Read("motor3/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return strings.TrimSuffix(s, "\n")
}

// Bad values are refused as the kernel does, and change nothing.
func TestKernelErrors(t *testing.T) {
	onBed(t, []Kind{medium}, func(t *testing.T, b *Bed, _ *built.Machine) {
		for what, want := range map[string]error{
			"command=run": syscall.EINVAL, "command=stop\n": nil, "polarity=reversed": syscall.EINVAL, "polarity=inversed": nil, "stop_action=halt": syscall.EINVAL,
			"speed_sp=1051": syscall.EINVAL, "speed_sp=-1050": nil, "speed_sp=fast": syscall.EINVAL, "speed_sp=": syscall.EINVAL, "speed_sp=10.5": syscall.EINVAL,
			"duty_cycle_sp=101": syscall.EINVAL, "duty_cycle_sp=-100": nil, "ramp_up_sp=-1": syscall.EINVAL, "time_sp=-1": syscall.EINVAL,
			"position=2147483648": syscall.EINVAL, "position_sp=-2147483648": nil, "position=2147483647": nil,
			"speed=5": syscall.EACCES, "state=running": syscall.EACCES, "nothing=1": syscall.ENOENT, "speed_pid/Kp=900": nil,
		} {
			name, value, _ := strings.Cut(what, "=")
			if err := b.Write("motor3/"+name, value); !errors.Is(err, want) {
				t.Errorf("%s: %v, want %v", what, err, want)
			}
		}
		if _, err := b.Read("motor3/command"); !errors.Is(err, syscall.EACCES) {
			t.Errorf("reading a command: %v", err)
		}
		if _, err := b.Read("motor0/state"); !errors.Is(err, syscall.ENOENT) {
			t.Errorf("a motor that is not there: %v", err)
		}
		if get(t, b, "speed_sp") != -1050 || get(t, b, "speed_pid/Kp") != 900 {
			t.Error("values were not kept")
		}
		put(t, b, "command=reset")
		if get(t, b, "speed_sp") != 0 || text(t, b, "polarity") != "normal" || text(t, b, "stop_action") != "coast" {
			t.Error("a reset left values behind")
		}
	})
}

// A run to a position ends there, within a count, in the time of its trapezoid, and
// holds; relative runs begin where the motor is.
func TestRunsToPositions(t *testing.T) {
	onBed(t, []Kind{medium}, func(t *testing.T, b *Bed, m *built.Machine) {
		put(t, b, "stop_action=hold", "speed_sp=-500", "ramp_up_sp=1000", "ramp_down_sp=1000", "position_sp=720", "command=run-to-abs-pos")
		time.Sleep(200 * time.Millisecond)
		if got := text(t, b, "state"); got != "running ramping" {
			t.Errorf("state %q", got)
		}
		time.Sleep(500 * time.Millisecond)
		if v := get(t, b, "speed"); math.Abs(float64(v-500)) > 10 {
			t.Errorf("speed %d, want 500 whatever the sign of speed_sp", v)
		}
		start := 700 * time.Millisecond
		for text(t, b, "state") != "holding" && start < 5*time.Second {
			time.Sleep(5 * time.Millisecond)
			start += 5 * time.Millisecond
		}
		// 720 counts at 500/s with 1050/s²: s/v + v/a = 1.916 s.
		if want := 720.0/500 + 500.0/1050; math.Abs(start.Seconds()-want) > 0.1 {
			t.Errorf("took %.3f s, want %.3f", start.Seconds(), want)
		}
		time.Sleep(time.Second)
		if p := get(t, b, "position"); p < 719 || p > 721 || math.Abs(m.Axis(0)-200) > 0.3 {
			t.Errorf("position %d, axis at %.2f mm", p, m.Axis(0))
		}
		put(t, b, "position_sp=-360", "command=run-to-rel-pos")
		time.Sleep(3 * time.Second)
		if p := get(t, b, "position"); p < 358 || p > 362 {
			t.Errorf("half a turn back: %d", p)
		}
	})
}

// A load is made up: the speed is kept, and so is the place when holding.
func TestKeepsItsSpeedUnderLoad(t *testing.T) {
	loaded := medium
	loaded.Friction = 0.4
	onBed(t, []Kind{loaded}, func(t *testing.T, b *Bed, _ *built.Machine) {
		put(t, b, "speed_sp=400", "command=run-forever")
		time.Sleep(1500 * time.Millisecond)
		if v := get(t, b, "speed"); math.Abs(float64(v-400)) > 12 {
			t.Errorf("speed %d, want 400", v)
		}
		if d := get(t, b, "duty_cycle"); d < 75 || d > 82 {
			t.Errorf("duty %d, want 400/1050 + 40 %%", d)
		}
		put(t, b, "speed_sp=1000", "command=run-forever")
		time.Sleep(1500 * time.Millisecond)
		if got := text(t, b, "state"); got != "running overloaded" {
			t.Errorf("asked for more than it has: %q at %d", got, get(t, b, "speed"))
		}
	})
}

// Against an end the motor stands at low duty, says stalled, and has lost nothing.
func TestStall(t *testing.T) {
	onBed(t, []Kind{medium}, func(t *testing.T, b *Bed, m *built.Machine) {
		put(t, b, "duty_cycle_sp=-30", "command=run-direct")
		time.Sleep(time.Second)
		if got := text(t, b, "state"); got != "running" {
			t.Errorf("on the way: %q", got)
		}
		time.Sleep(4 * time.Second)
		if got := text(t, b, "state"); got != "running stalled" || m.Axis(0) != 0 {
			t.Errorf("%q at %.2f mm", got, m.Axis(0))
		}
		if p := get(t, b, "position"); p > -719 || p < -722 {
			t.Errorf("position %d, want -720", p)
		}
		put(t, b, "duty_cycle_sp=30")
		time.Sleep(100 * time.Millisecond)
		if get(t, b, "speed") <= 0 {
			t.Error("run-direct does not follow its duty")
		}
	})
}

// Coasting runs on, braking less, and the counter goes round at 32 bits.
func TestStopActions(t *testing.T) {
	way := map[string]int{}
	for _, action := range stopActions {
		onBed(t, []Kind{medium}, func(t *testing.T, b *Bed, _ *built.Machine) {
			put(t, b, "stop_action="+action, "speed_sp=900", "command=run-forever")
			time.Sleep(time.Second)
			put(t, b, "position=2147483640", "command=stop")
			time.Sleep(2 * time.Second)
			way[action] = int(int32(get(t, b, "position") - 2147483640))
			if get(t, b, "position") > 0 && way[action] > 7 {
				t.Errorf("%s: the counter did not go round: %d", action, get(t, b, "position"))
			}
		})
	}
	if way["coast"] < 2*way["brake"] || way["brake"] < 10 || math.Abs(float64(way["hold"])) > 3 {
		t.Errorf("ways after the stop: %v", way)
	}
}

// Inversed polarity turns everything round, run-timed ends by itself.
func TestPolarityAndTime(t *testing.T) {
	onBed(t, []Kind{medium}, func(t *testing.T, b *Bed, m *built.Machine) {
		put(t, b, "polarity=inversed", "speed_sp=500", "time_sp=1000", "stop_action=brake", "command=run-timed")
		time.Sleep(3 * time.Second)
		if p := get(t, b, "position"); p < 440 || p > 540 || m.Axis(0) > 50 {
			t.Errorf("position %d, axis at %.2f mm", p, m.Axis(0))
		}
		if got := text(t, b, "state"); got != "" {
			t.Errorf("state %q", got)
		}
	})
}

// Two motors that face each other turn one axis; told different things, they fight.
func TestTwoMotorsOnAnAxis(t *testing.T) {
	other := medium
	other.Address, other.Opposed = "outB", true
	onBed(t, []Kind{medium, other}, func(t *testing.T, b *Bed, m *built.Machine) {
		put(t, b, "motor4/polarity=inversed", "speed_sp=400", "motor4/speed_sp=400", "command=run-forever", "motor4/command=run-forever")
		time.Sleep(time.Second)
		if twist := b.Twist(0); math.Abs(twist) > 0.5 || m.Axis(0) < 140 {
			t.Errorf("together: twisted by %.2f counts at %.2f mm", twist, m.Axis(0))
		}
		put(t, b, "motor4/stop_action=hold", "motor4/command=stop")
		time.Sleep(time.Second)
		if twist := b.Twist(0); math.Abs(twist) < 10 {
			t.Errorf("one holds, one runs: twisted by %.2f counts", twist)
		}
	})
}

// A motor that is plugged in again has the next number and has forgotten all.
func TestUnplug(t *testing.T) {
	onBed(t, []Kind{medium}, func(t *testing.T, b *Bed, _ *built.Machine) {
		put(t, b, "position=77")
		plug := b.Unplug("outA")
		if _, err := b.Read("motor3/position"); !errors.Is(err, syscall.ENOENT) {
			t.Errorf("%v", err)
		}
		plug()
		if names, _ := b.List(); len(names) != 1 || names[0] != "motor4" {
			t.Errorf("%q", names)
		}
		if s, err := b.Read("motor4/position"); s != "0\n" || err != nil {
			t.Errorf("%q %v", s, err)
		}
	})
}

// What a motor tells is where its axis is, below where the power came as well as above: else a
// machine seems to go farther or less far than it counts.
func TestCountsAlikeOnBothSides(t *testing.T) {
	onBed(t, []Kind{medium}, func(t *testing.T, b *Bed, m *built.Machine) {
		start, perMM := m.Axis(0), 7.2
		for _, duty := range []int{17, -17} {
			sum, n := 0.0, 0.0
			put(t, b, "duty_cycle_sp="+strconv.Itoa(duty), "command=run-direct")
			for range 200 {
				time.Sleep(13 * time.Millisecond)
				at := get(t, b, "position")
				if on := at * duty; on <= 5*17 { // on the way back to where it began
					continue
				}
				sum, n = sum+(m.Axis(0)-start)*perMM-float64(at), n+1
			}
			if n < 50 || math.Abs(sum/n) > 0.1 {
				t.Errorf("at a duty of %d the axis is %.2f counts beyond what %g positions tell", duty, sum/n, n)
			}
			put(t, b, "speed_sp=500", "position_sp=0", "command=run-to-abs-pos")
			time.Sleep(5 * time.Second)
		}
	})
}
