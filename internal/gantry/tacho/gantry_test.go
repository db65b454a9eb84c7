// SPDX-License-Identifier: Apache-2.0

package tacho

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"boardhand/internal/gantry"
	"boardhand/internal/gantry/built"
	"boardhand/internal/gantry/clock"
	"boardhand/internal/gantry/tachobed"
	"boardhand/internal/motion"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// bed is a gantry on simulated motors, which share no code with it.
type bed struct {
	*Gantry
	motors  *tachobed.Bed
	machine *built.Machine
}

// benchRig is the default rig with motors at ports, two for the y axis.
func benchRig(t *testing.T, motors string) *rig.Rig {
	t.Helper()
	r, err := rig.Parse("rig.toml", []byte(strings.Replace(rig.DefaultText, `kind = "twin"               #`, "kind = \"tacho\"\nmotor = { "+motors+" }\n#", 1)), rig.Machine)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

const allMotors = `x = "outA", y = "outB, -outC", lift = "outD"`

// inBed runs a test in time of its own; change changes the four motors: x, y, y turned
// round, lift.
func inBed(t *testing.T, change func(k []tachobed.Kind), run func(t *testing.T, b *bed)) {
	t.Helper()
	synctest.Test(t, func(t *testing.T) {
		travel := built.Axis{PerMM: 360 / (16 * math.Pi), Length: 337, Start: 120}
		m := built.New(travel, travel, built.Axis{PerMM: 18, Length: 20, Start: 7})
		k := make([]tachobed.Kind, 4)
		for i := range k {
			k[i] = tachobed.Kind{Address: "out" + string(rune('A'+i)), PerTurn: 360, MaxSpeed: 1050, Friction: 0.1, Axis: []int{0, 1, 1, 2}[i], Opposed: i == 2}
		}
		if change != nil {
			change(k)
		}
		b := &bed{motors: tachobed.New(clock.New(1), m, 0, k...), machine: m}
		var err error
		if b.Gantry, err = New(benchRig(t, allMotors), b.motors); err != nil {
			t.Fatal(err)
		}
		defer b.Close()
		run(t, b)
	})
}

func (b *bed) homed(t *testing.T) {
	t.Helper()
	if _, err := b.Home(t.Context()); err != nil {
		t.Fatal(err)
	}
}

// at is where the carriage truly is, m.
func (b *bed) at() spot {
	x, y := b.motors.Carriage(b.machine)
	return spot{X: x / 1e3, Y: y / 1e3}
}

func stroke(speed float64, to ...spot) motion.Stroke {
	return motion.Stroke{Path: to, Speed: unit.Speed(speed), Accel: 0.4}
}

// Straight ways stay straight though one axis has four times the other's friction and
// its motor is a tenth slower: within five counts, 0.7 mm, everywhere, and nothing to tell.
func TestStraightWays(t *testing.T) {
	const seed = 8
	t.Log("seed", seed)
	inBed(t, func(k []tachobed.Kind) { k[0].Friction, k[1].Friction, k[2].Friction, k[0].Slow = 0.05, 0.2, 0.2, 0.9 }, func(t *testing.T, b *bed) {
		rnd := rand.New(rand.NewPCG(seed, 0))
		b.homed(t)
		worst, off, late := 0.0, 0.0, 0.0
		for range 25 {
			from, to := b.at(), spot{X: 0.01 + 0.31*rnd.Float64(), Y: 0.01 + 0.31*rnd.Float64()}
			way := to.Sub(from)
			ended := make(chan error, 1)
			begun := time.Now()
			go func() { _, err := b.Move(t.Context(), stroke(0.08, to)); ended <- err }()
			for going := true; going; {
				select {
				case err := <-ended:
					if err != nil {
						t.Error(err)
					}
					going = false
				case <-time.After(5 * time.Millisecond):
					d := b.at().Sub(from)
					worst = math.Max(worst, math.Abs(d.X*way.Y-d.Y*way.X)/way.Norm())
				}
			}
			late = math.Max(late, time.Since(begun).Seconds()-way.Norm()/0.08)
			off = math.Max(off, b.at().Distance(to))
		}
		t.Logf("at most %.2f mm off the line, %.2f mm off the end, %.2f s longer than at full speed", worst*1e3, off*1e3, late)
		if worst > 0.7e-3 || off > 0.3e-3 {
			t.Errorf("%.2f mm off the line, %.2f mm off the end", worst*1e3, off*1e3)
		}
	})
}

// An axis that is held is told as stalled, by name and place, soon; the motors stand
// and their counts are still true.
func TestStallIsTold(t *testing.T) {
	inBed(t, nil, func(t *testing.T, b *bed) {
		b.homed(t)
		if _, err := b.Move(t.Context(), stroke(0.05, spot{X: 0.1, Y: 0.1})); err != nil {
			t.Fatal(err)
		}
		time.AfterFunc(time.Second, func() { b.machine.Hold(1) })
		begun := time.Now()
		at, err := b.Move(t.Context(), stroke(0.05, spot{X: 0.3, Y: 0.3}))
		var stall *motion.Stall
		var spoilt *motion.Spoilt
		if errors.As(err, &spoilt) || !errors.As(err, &stall) || stall.Axis != "y" || math.Abs(float64(stall.At)-b.at().Y) > 1e-3 {
			t.Errorf("got %v, truly at %.1f mm", err, b.at().Y*1e3)
		}
		if took := time.Since(begun); took > 2500*time.Millisecond {
			t.Errorf("told after %v", took)
		}
		if d := at.Distance(b.at()); d > 0.5e-3 {
			t.Errorf("says it is %.2f mm from where it is", d*1e3)
		}
		before := b.at()
		time.Sleep(time.Second)
		if b.at() != before {
			t.Error("went on")
		}
	})
}

// A motor that has lost its force leaves the line, which is told.
func TestWeakMotorIsTold(t *testing.T) {
	inBed(t, func(k []tachobed.Kind) { k[0].Slow = 0.45 }, func(t *testing.T, b *bed) {
		b.homed(t)
		_, err := b.Move(t.Context(), stroke(0.12, spot{X: 0.3, Y: 0.3}))
		var lag *motion.Lag
		var stall *motion.Stall
		if !errors.As(err, &lag) && !errors.As(err, &stall) {
			t.Errorf("got %v", err)
		}
	})
}

// Before anything moves Home says what does not fit.
func TestHomeSaysWhatDoesNotFit(t *testing.T) {
	for want, change := range map[string]func(k []tachobed.Kind){
		`no motor at port outC: plug it in`:        func(k []tachobed.Kind) { k[2].Address = "outE" },
		"counts 720 a turn, the rig file says 360": func(k []tachobed.Kind) { k[0].PerTurn = 720 },
		"lower axis.y.speed to 113 mm/s":           func(k []tachobed.Kind) { k[1].MaxSpeed = 900 },
		"the lift has not come to its end in 10 s": func(k []tachobed.Kind) { k[3].MaxSpeed = 20 },
		"axis y is stalled":                        func(k []tachobed.Kind) { k[2].Opposed = false },
	} {
		inBed(t, change, func(t *testing.T, b *bed) {
			before := b.at()
			_, err := b.Home(t.Context())
			if err == nil || !strings.Contains(err.Error(), want) {
				t.Errorf("got %v, want %q", err, want)
			}
			if d := b.at().Distance(before); d > 1e-3 && !strings.Contains(want, "stalled") {
				t.Errorf("%q: moved %.1f mm", want, d*1e3)
			}
			if _, err := b.Move(t.Context(), stroke(0.05, spot{X: 0.1, Y: 0.1})); !errors.Is(err, gantry.ErrNoHome) {
				t.Errorf("a move afterwards: %v", err)
			}
		})
	}
}

// Something that gives way does not pass for an end.
func TestObstacleIsNoEnd(t *testing.T) {
	inBed(t, nil, func(t *testing.T, b *bed) {
		b.machine.Hold(0)
		ended := make(chan error, 1)
		go func() { _, err := b.Home(t.Context()); ended <- err }()
		for wasLow := false; !wasLow || b.at().Y < 2e-3; time.Sleep(10 * time.Millisecond) {
			wasLow = wasLow || b.at().Y < 1e-4
		}
		b.machine.Free(0) // between the two presses
		if err := <-ended; err == nil || !strings.Contains(err.Error(), "axis x found its end at two places") {
			t.Errorf("got %v with the carriage at %.1f mm", err, b.at().X*1e3)
		}
	})
}

func TestMotorNames(t *testing.T) {
	for ports, want := range map[string]int{"outA": 1, "outA, -outD": 2, "": 0, "outA,,outB": 0, "-": 0, "a,b,c": 0} {
		m, err := motorsOf(nil, ports)
		if len(m) != want || (err == nil) != (want > 0) {
			t.Errorf("%q: %d motors, %v", ports, len(m), err)
		}
	}
	if _, err := New(benchRig(t, `x = "outA", y = "outB"`), nil); err == nil || !strings.Contains(err.Error(), "controller.motor.lift") {
		t.Errorf("no lift: %v", err)
	}
}

// Small kinks are run through, sharp turns stood at.
func TestLegs(t *testing.T) {
	got := legs(spot{}, []spot{{X: 0.0001}, {X: 0.1}, {X: 0.2, Y: 0.005}, {X: 0.2, Y: 0.1}, {X: 0.2, Y: 0.1}, {X: 0.1, Y: 0.1}})
	if len(got) != 3 || len(got[0]) != 3 || len(got[1]) != 2 || len(got[2]) != 2 {
		t.Errorf("%v", got)
	}
}
