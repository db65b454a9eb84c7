// SPDX-License-Identifier: Apache-2.0

package bed

import (
	"errors"
	"fmt"
	"io"
	"time"

	"boardhand/internal/frame"
	"boardhand/internal/gantry/built"
	"boardhand/internal/gantry/clock"
	"boardhand/internal/gantry/firmware"
	"boardhand/internal/gantry/wire"
)

// Lines is a controller that takes G-code by lines, with a machine on its motors.
type Lines struct {
	process
	build    Build
	machine  *built.Machine
	firmware *firmware.Firmware
	commands *wire.Commands
	follower follower

	end     *end     // of the wire that is open; nil: none is
	out     []parcel // on the way to the controller
	back    []parcel // and from it
	device  int      // number of the device's name
	backAt  time.Duration
	missed  float64       // when it was homed last
	lateAt  time.Duration // when what came late was there at last
	starved int           // times that the planner had run dry until now
	delayed int           // of them, times just after something came late
	lost    int
}

// parcel is something on its way, and when it arrives.
type parcel struct {
	bytes []byte
	at    time.Duration
}

// NewLines puts a controller, set for a machine, to a world's motors. Its wire makes
// commands ill.
func NewLines(b Build, w World, c *clock.Virtual, ills *wire.Commands) *Lines {
	zero := switchAt + pullOff
	var axes []built.Axis
	for _, a := range b.Axes {
		axes = append(axes, built.Axis{PerMM: a.PerMM, Length: a.Travel + 2*pullOff, Start: zero + a.Start, SwitchAt: switchAt})
	}
	if b.Lift == "axis" {
		axes = append(axes, built.Axis{PerMM: liftPerMM, Length: b.Drop + 2*zero, Start: zero, SwitchAt: switchAt})
	}
	l := &Lines{process: newProcess(c), build: b, machine: built.New(axes...), commands: ills, follower: follower{world: w}}
	l.machine.LiftTime = min(b.Settle, time.Duration(b.Drop/b.Speed*float64(time.Second)))
	o := firmware.Options{Settings: b.settings(), Baud: b.Baud}
	if b.Lift != "axis" {
		o.Cycles = [][]int{{0, 1}}
	}
	l.firmware = firmware.New(firmware.Motors{Machine: l.machine}, o)
	l.follower.to, l.follower.lift = l.where()
	c.Go(func() { l.run(l.due) })
	return l
}

// settings are what a maker has set at the controller. Source of the numbers: the
// firmware's published text.
func (b Build) settings() map[int]float64 {
	s := map[int]float64{10: 1, 20: 1, 22: 1, 23: 7, 24: homingFeed, 25: homingSeek, 27: pullOff, 30: 1000,
		102: liftPerMM, 112: 60 * b.Speed, 122: 400, 132: b.Drop + 2*pullOff}
	for i, a := range b.Axes {
		s[100+i], s[110+i], s[120+i], s[130+i] = a.PerMM, 60*a.Speed, a.Accel, a.Travel+pullOff
	}
	return s
}

// where is where the machine has the carriage, m from where homing leaves it, and the
// lift; mu is held.
func (l *Lines) where() (at frame.Spot[frame.Machine], lift float64) {
	zero := switchAt + pullOff
	at = frame.Spot[frame.Machine]{X: (l.machine.Axis(0) - zero) / 1e3, Y: (l.machine.Axis(1) - zero) / 1e3}
	if l.build.Lift != "axis" {
		return at, l.machine.Lift(l.firmware.Now())
	}
	return at, share(l.machine.Axis(2)-zero, l.build.Drop)
}

// Name is what the system calls the device now: another name each time that it is
// plugged in.
func (l *Lines) Name() string { return fmt.Sprintf("ttyACM%d", l.device) }

// errOut says that no device is there.
var errOut = errors.New("the controller is not there: plug it in")

// Open opens the wire, whatever the device is called now; the controller starts anew, as
// common boards do.
func (l *Lines) Open() (io.ReadWriteCloser, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if now := l.clock.Passed(); now < l.backAt {
		return nil, errOut
	}
	l.due()
	l.firmware.Power()
	l.out, l.back = nil, nil
	l.end = &end{lines: l, changed: make(chan struct{})}
	l.wake()
	return l.end, nil
}

// due brings everything to the clock's time and says how long nothing is to be done;
// mu is held.
func (l *Lines) due() time.Duration {
	now := l.clock.Passed()
	for len(l.out) > 0 && l.out[0].at <= now {
		l.pass(max(l.out[0].at, l.firmware.Now()))
		l.firmware.Receive(l.out[0].bytes)
		l.out = l.out[1:]
	}
	l.pass(now)
	for len(l.back) > 0 && l.back[0].at <= now {
		l.end.arrive(l.back[0].bytes)
		l.back = l.back[1:]
	}
	next := l.firmware.Next()
	if l.isLifting() {
		next = min(next, now+look)
	}
	for _, p := range [][]parcel{l.out, l.back} {
		if len(p) > 0 {
			next = min(next, p[0].at)
		}
	}
	return next - now
}

// isLifting says whether a lift on an output is on its way; mu is held.
func (l *Lines) isLifting() bool {
	if l.build.Lift == "axis" {
		return false
	}
	up := l.machine.Lift(l.firmware.Now())
	return up > 0 && up < 1 || up != l.follower.lift
}

// pass lets the controller's time pass, and the world follow; mu is held.
func (l *Lines) pass(to time.Duration) {
	for {
		next := min(to, l.firmware.Next())
		if l.isLifting() {
			next = min(next, l.firmware.Now()+look)
		}
		l.firmware.Advance(next)
		at, lift := l.where()
		l.follower.pass(next, at, lift)
		l.noteStarved(next)
		if said := l.firmware.Take(); len(said) > 0 && l.end != nil {
			l.answer(said, next)
		}
		if next >= to {
			return
		}
	}
}

// noteStarved tells a planner that ran dry because the wire kept a line or an answer back
// from one whose driver was too slow; mu is held.
func (l *Lines) noteStarved(now time.Duration) {
	n := l.firmware.Counters().Starved
	if l.lateAt > 0 && now-l.lateAt < afterLate {
		l.delayed += n - l.starved
	}
	l.starved = n
}

// answer sends what the controller said back, line by line; mu is held.
func (l *Lines) answer(said []byte, now time.Duration) {
	ill := l.commands.Answer()
	if len(l.back) > 0 {
		now = max(now, l.back[len(l.back)-1].at)
	}
	if ill == wire.Late {
		now += l.commands.Delay()
		l.lateAt = now
	}
	l.back = append(l.back, parcel{l.commands.Spoil(said, ill), now})
}

// send sends a command; mu is held. False: the plug was pulled.
func (l *Lines) send(p []byte) bool {
	ill, now := l.commands.Command(), l.clock.Passed()
	if ill == wire.Unplugged {
		l.unplug()
		return false
	}
	if len(l.out) > 0 {
		now = max(now, l.out[len(l.out)-1].at)
	}
	if ill == wire.Late {
		now += l.commands.Delay()
		l.lateAt = now
	}
	l.out = append(l.out, parcel{l.commands.Spoil(p, ill), now})
	l.wake()
	return true
}

// unplug pulls the plug: what was on its way is gone, the controller runs what it has. It
// comes back after a while under another name; mu is held.
func (l *Lines) unplug() {
	l.end.cut()
	l.end, l.out, l.back = nil, nil, nil
	l.device++
	l.lost++
	l.backAt = l.clock.Passed() + l.commands.Delay()
}

// IsKnown says whether the controller truly knows where the machine is.
func (l *Lines) IsKnown() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.firmware.IsHomed() && l.machine.Missed()-l.missed < l.step()
}

// step is a step of the finer axis, mm.
func (l *Lines) step() float64 { return 1 / max(l.build.Axes[0].PerMM, l.build.Axes[1].PerMM) }

// Homed notes that the driver believes in a zero.
func (l *Lines) Homed() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.missed = l.machine.Missed()
}

// Counts are what was counted until now.
func (l *Lines) Counts() Counts {
	l.mu.Lock()
	defer l.mu.Unlock()
	f := l.firmware.Counters()
	return Counts{Commands: l.commands.Sent(), Ills: illsOf(l.commands), Resets: f.Resets, Homings: f.Homings, Reconnected: l.lost,
		Starved: l.starved - l.delayed, Delayed: l.delayed, Missed: l.machine.Missed()}
}

func illsOf(c *wire.Commands) map[string]int {
	out := map[string]int{}
	for ill, n := range c.Count() {
		out[string(ill)] = n
	}
	return out
}
