// SPDX-License-Identifier: Apache-2.0

// Package firmware simulates a motor controller that speaks the open G-code
// firmware's line protocol: a receive buffer that overruns, a short queue of planned
// blocks, homing against switches, limits, alarms, bytes that act at once. It is
// written from the published text of that protocol alone and shares no code with
// whoever drives it.
//
// Firmware is a state machine in bed time; Serve and Open put it behind a stream
// or a pseudo-terminal. Sources: repository gnea/grbl, doc/markdown and doc/csv;
// NISTIR 6556. What is from memory says so.
package firmware

import (
	"math"
	"time"

	"boardhand/internal/gantry/firmware/blocks"
	"boardhand/internal/gantry/firmware/modal"
	"boardhand/internal/gantry/firmware/settings"
)

// Axes is the machine that hangs on the motors.
type Axes interface {
	// Step says that the motors have turned to these counts since the firmware was made.
	Step(counts [blocks.Axes]int64, at time.Duration)
	// IsClosed says whether an axis' switch is closed.
	IsClosed(axis int) bool
	// Spindle sets the spindle's output: below 0 counterclockwise, 0 off, at most
	// the largest speed of the settings.
	Spindle(speed float64, at time.Duration)
	// Flood switches the coolant's output.
	Flood(isOn bool, at time.Duration)
}

// Options of a firmware.
type Options struct {
	Settings map[int]float64 // those that differ from the printed defaults
	Cycles   [][]int         // axes homed together, one group after the other; nil: z, then x and y
	Baud     int             // 0: 115200
}

// Counters say what happened to a firmware since it was made.
type Counters struct {
	Bytes   int // received
	Overrun int // lost because the receive buffer was full
	Written int // lost because a lasting setting was being written
	Lines   int // answered
	Faults  int // of them with an error
	Blocks  int // motions planned
	Resets  int // by 0x18 while the power was on
	Homings int // that found all switches
	Alarms  int
	Starved int // times the queue ran dry and a further block of the same stroke came soon after
	Braked  int // times a further block came only when the last one was already slowing down
}

// state of the machine, as reports tell it.
type state string

const (
	idle    state = "Idle"
	running state = "Run"
	held    state = "Hold"
	jogging state = "Jog"
	alarmed state = "Alarm"
	door    state = "Door"
	check   state = "Check"
	homes   state = "Home"
	asleep  state = "Sleep"
)

// Firmware is the controller's program and memory.
type Firmware struct {
	axes    Axes
	options Options
	set     settings.Settings
	startup [2]string
	count   Counters

	now   time.Duration
	wire  wire
	state state
	doing
	modal   modal.State
	queue   *blocks.Queue
	at      blocks.Vector // machine, mm
	shift   blocks.Vector // at + shift: mm turned since power came
	homing  *homing
	hasHome bool
	lost    bool // stopped dead in motion: what at says is not so
	run     starvation
	ask     reporting
}

// doing is what the firmware is about to do.
type doing struct {
	todo      []func() bool // parts of the line at work; true: done
	isBusy    bool          // a line is at work
	mustReset bool          // after an alarm that only a reset ends
	until     time.Duration // end of a dwell or of a write
	writing   time.Duration // till then every byte is lost
}

// New makes a controller with its power on.
func New(a Axes, o Options) *Firmware {
	if o.Cycles == nil {
		o.Cycles = [][]int{{2}, {0, 1}}
	}
	if o.Baud == 0 {
		o.Baud = 115200
	}
	f := &Firmware{axes: a, options: o, set: settings.New(o.Settings), wire: newWire(o.Baud)}
	f.queue = blocks.New(f.set.Limits(), blocks.Vector{})
	f.Power()
	return f
}

// Power switches the controller off and on: where the machine is gets lost.
func (f *Firmware) Power() {
	f.wire = newWire(f.options.Baud)
	f.shift = f.at.Plus(f.shift, 1)
	f.at, f.hasHome, f.lost, f.mustReset = blocks.Vector{}, false, false, false
	f.modal.At = f.at
	f.state = idle
	f.begin()
}

// begin is what a reset and power have in common: the banner and the reset modes.
func (f *Firmware) begin() {
	f.queue = blocks.New(f.set.Limits(), f.at)
	f.homing, f.doing, f.run, f.ask = nil, doing{}, starvation{}, reporting{feed: 100, rapid: 100}
	f.wire.forget()
	f.modal.At, f.modal.Tolerance = f.at, f.set[settings.ArcTolerance]
	f.modal.Reset()
	f.axes.Spindle(0, f.now)
	f.axes.Flood(false, f.now)
	f.say("")
	f.say("Grbl 1.1f ['$' for help]")
	if f.set.Is(settings.Homing) && !f.hasHome || f.state == alarmed {
		f.state = alarmed
		f.say("[MSG:'$H'|'$X' to unlock]")
		return
	}
	f.state = idle
	for _, line := range f.startup {
		if line != "" {
			f.todo = append(f.todo, f.startLine(line)...)
			f.isBusy = false
		}
	}
}

// Now is the bed time that the firmware has come to.
func (f *Firmware) Now() time.Duration { return f.now }

// Counters are what happened so far.
func (f *Firmware) Counters() Counters { return f.count }

// IsHomed says whether the firmware truly knows where the machine is: homed since the
// power came, and not stopped dead in motion.
func (f *Firmware) IsHomed() bool { return f.hasHome && !f.lost }

// Position is where the firmware thinks the machine is, mm, machine frame.
func (f *Firmware) Position() blocks.Vector { return f.at }

// Advance lets time pass until a bed time, no further than it.
func (f *Firmware) Advance(to time.Duration) {
	for {
		f.listen()
		f.work()
		if f.now >= to {
			return
		}
		next := min(to, f.Next())
		f.pass(next - f.now)
	}
}

// Next is the bed time at which something happens without anybody doing anything;
// a tick ahead while the machine moves, very late when nothing goes on.
func (f *Firmware) Next() time.Duration {
	next := f.wire.next(f.now)
	if f.until > f.now {
		next = min(next, f.until)
	}
	switch {
	case f.homing != nil:
		next = min(next, f.now+tick)
	case f.queue.UntilNext() < tick.Seconds():
		next = min(next, f.now+time.Duration(math.Ceil(f.queue.UntilNext()*1e9)))
	case !math.IsInf(f.queue.UntilNext(), 1):
		next = min(next, f.now+tick)
	}
	return max(next, f.now+1)
}

// pass lets dt pass in which nothing arrives.
func (f *Firmware) pass(dt time.Duration) {
	f.now += dt
	switch {
	case f.homing != nil:
		f.home(dt.Seconds())
	case f.queue.Len() > 0:
		ended := f.queue.Advance(dt.Seconds())
		f.at = f.queue.Position()
		f.turn()
		if f.hitLimit() {
			return
		}
		f.settle(ended)
	}
}

// turn gives the motors their counts.
func (f *Firmware) turn() {
	var counts [blocks.Axes]int64
	for i, steps := range f.set.Axis(settings.StepsPerMM) {
		counts[i] = int64(math.Round((f.at[i] + f.shift[i]) * steps))
	}
	f.axes.Step(counts, f.now)
}

// settle changes the state when motion has ended.
func (f *Firmware) settle(ended bool) {
	isStill := f.queue.Speed() == 0
	switch {
	case f.state == running && f.queue.Len() == 0:
		f.state = idle
	case f.state == jogging && (f.queue.Len() == 0 || f.queue.IsHeld() && isStill):
		f.queue.Flush()
		f.modal.At = f.at
		f.state = idle
	}
	if ended && f.queue.Len() == 0 {
		f.run.dry = f.now
	}
}

// moved says that the machine is at a place that no motion led to.
func (f *Firmware) moved(at blocks.Vector) {
	for i := range at {
		f.shift[i] += f.at[i] - at[i]
	}
	f.at, f.modal.At = at, at
	f.queue.Set(at)
}
