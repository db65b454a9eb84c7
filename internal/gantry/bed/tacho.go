// SPDX-License-Identifier: Apache-2.0

package bed

import (
	"io/fs"
	"math"
	"path"
	"strings"
	"syscall"
	"time"

	"boardhand/internal/frame"
	"boardhand/internal/gantry/built"
	"boardhand/internal/gantry/clock"
	"boardhand/internal/gantry/tachobed"
	"boardhand/internal/gantry/wire"
)

// Tacho is a folder of tacho motors, with a machine on them.
type Tacho struct {
	process
	build    Build
	machine  *built.Machine
	bed      *tachobed.Bed
	commands *wire.Commands
	follower follower

	again   []replug // motors that are out
	lost    int      // plugs pulled
	known   int      // of them when it was homed last
	homings int
}

// replug puts a motor in again.
type replug struct {
	plug func()
	at   time.Duration
}

// NewTacho puts motors with a machine to a world's motors. What is written to them is
// spoilt on its way, and so is what is read.
func NewTacho(b Build, w World, c *clock.Virtual, ills *wire.Commands) *Tacho {
	var axes []built.Axis
	var kinds []tachobed.Kind
	for i, a := range b.Axes {
		axes = append(axes, built.Axis{PerMM: a.PerMM, Length: a.Travel, Start: a.Start})
		kinds = append(kinds, motorsOf(a, i)...)
	}
	lift := Axis{Port: b.LiftPort, Counts: liftCounts, Free: b.Speed / b.Drop / liftTurns * 2} // half the duty gives the lift's speed
	axes = append(axes, built.Axis{PerMM: liftCounts * liftTurns / b.Drop, Length: b.Drop})
	t := &Tacho{process: newProcess(c), build: b, machine: built.New(axes...), commands: ills, follower: follower{world: w}}
	t.bed = tachobed.New(clock.Bed{Virtual: c}, t.machine, firstMotor, append(kinds, motorsOf(lift, 2)...)...)
	t.follower.to, t.follower.lift = t.where()
	c.Go(func() { t.run(t.due) })
	return t
}

// motorsOf are the one or two motors of an axis.
func motorsOf(a Axis, axis int) (out []tachobed.Kind) {
	for _, p := range strings.Split(a.Port, ",") {
		port, isOpposed := strings.CutPrefix(strings.TrimSpace(p), "-")
		out = append(out, tachobed.Kind{Address: "ports:" + port, PerTurn: a.Counts, MaxSpeed: a.Free * float64(a.Counts), Axis: axis, Opposed: isOpposed, Friction: friction})
	}
	return out
}

// where is where the motors have the carriage, m, and the lift; mu is held.
func (t *Tacho) where() (at frame.Spot[frame.Machine], lift float64) {
	t.bed.Carriage(t.machine) // to the clock's time
	return frame.Spot[frame.Machine]{X: t.machine.Axis(0) / 1e3, Y: t.machine.Axis(1) / 1e3}, share(t.machine.Axis(2), t.build.Drop)
}

// due brings the world to the clock's time; mu is held.
func (t *Tacho) due() time.Duration {
	now := t.clock.Passed()
	for len(t.again) > 0 && t.again[0].at <= now {
		t.again[0].plug()
		t.again = t.again[1:]
	}
	at, lift := t.where()
	t.follower.pass(now, at, lift)
	return look
}

// List are the names of the motors that are there.
func (t *Tacho) List() ([]string, error) { return t.bed.List() }

// Read reads an attribute.
func (t *Tacho) Read(name string) (string, error) {
	t.mu.Lock()
	ill := t.commands.Answer()
	t.mu.Unlock()
	text, err := t.bed.Read(name)
	switch {
	case ill == wire.Late:
		t.clock.Wait(t.commands.Delay() / slowFolder)
	case ill == wire.Lost:
		return "", &fs.PathError{Op: "read", Path: name, Err: syscall.EIO}
	}
	return string(t.commands.Spoil([]byte(text), ill)), err
}

// Write writes an attribute.
func (t *Tacho) Write(name, value string) error {
	t.mu.Lock()
	ill := t.commands.Command()
	if ill == wire.Unplugged {
		t.unplug(name)
	}
	t.mu.Unlock()
	switch ill {
	case wire.Late:
		t.clock.Wait(t.commands.Delay() / slowFolder)
	case wire.Lost:
		return &fs.PathError{Op: "write", Path: name, Err: syscall.EIO}
	case wire.Doubled:
		_ = t.bed.Write(name, value) // the answer is that of the second
	case wire.Changed:
		value = string(t.commands.Spoil([]byte(value), ill))
	}
	return t.bed.Write(name, value)
}

// unplug pulls the plug of the motor that an attribute belongs to. It comes back after
// a while, counting from nothing, under another number; mu is held.
func (t *Tacho) unplug(name string) {
	address, err := t.bed.Read(path.Join(path.Dir(name), "address"))
	if err != nil {
		return // it is out already
	}
	t.lost++
	t.again = append(t.again, replug{t.bed.Unplug(strings.TrimSpace(address)), t.clock.Passed() + t.commands.Delay()})
	for i := len(t.again) - 1; i > 0 && t.again[i].at < t.again[i-1].at; i-- {
		t.again[i], t.again[i-1] = t.again[i-1], t.again[i]
	}
}

// IsKnown says whether the motors' counts are truly those since homing.
func (t *Tacho) IsKnown() bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.homings > 0 && t.known == t.lost
}

// Homed notes that the driver believes in a zero.
func (t *Tacho) Homed() {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.homings++; math.Hypot(t.machine.Axis(0), t.machine.Axis(1)) < nearEnd {
		t.known = t.lost
	}
}

// Counts are what was counted until now.
func (t *Tacho) Counts() Counts {
	t.mu.Lock()
	defer t.mu.Unlock()
	return Counts{Commands: t.commands.Sent(), Ills: illsOf(t.commands), Homings: t.homings, Reconnected: t.lost, Missed: t.machine.Missed()}
}
