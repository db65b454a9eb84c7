// SPDX-License-Identifier: Apache-2.0

// Package tachobed simulates motors of the tacho-motor class: a folder of attributes
// for each motor that are read and written as text, with what the kernel answers to
// bad values, and motors with inertia, load and ends behind them, in bed time. It is
// written from the class' published description alone and shares no code with
// whoever drives it. Source: the tacho-motor kernel driver sources,
// motors/tacho_motor_class.c, commit of 26 January 2022. What is from memory says so.
package tachobed

import (
	"fmt"
	"io/fs"
	"math"
	"path"
	"slices"
	"strings"
	"sync"
	"syscall"
	"time"

	"boardhand/internal/gantry/built"
)

// Clock is the time in which the motors turn.
type Clock interface {
	// Now is the time since some beginning.
	Now() time.Duration
}

// Load is the machine that the motors turn, by axes.
type Load interface {
	// Turn says which count the motors of an axis have turned it to.
	Turn(axis int, count int64)
	// Blocks says whether an end holds an axis that turns this way.
	Blocks(axis int, way float64) bool
}

// Kind is what a motor is and where it hangs.
type Kind struct {
	Address  string  // its port
	PerTurn  int     // counts in one turn
	MaxSpeed float64 // counts a second, unloaded, at full duty
	Axis     int     // which axis it turns
	Opposed  bool    // mounted so that it turns the axis backwards
	Friction float64 // of its axis, share of the stall torque
	Slow     float64 // it reaches only this share of its speed; 0: all
}

// Bed is a folder of motors.
type Bed struct {
	clock Clock
	load  Load

	mu     sync.Mutex
	now    time.Duration
	motors map[string]*motor
	next   int // number of the next motor plugged in
}

// New plugs motors in, numbered from first; the number says nothing of the port.
func New(c Clock, l Load, first int, kinds ...Kind) *Bed {
	b := &Bed{clock: c, load: l, motors: map[string]*motor{}, next: first, now: c.Now()}
	for _, k := range kinds {
		b.plug(newMotor(k))
	}
	return b
}

func (b *Bed) plug(m *motor) {
	b.motors[fmt.Sprintf("motor%d", b.next)] = m
	b.next++
}

// List are the names of the motors that are there.
func (b *Bed) List() ([]string, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	var out []string
	for name := range b.motors {
		out = append(out, name)
	}
	slices.Sort(out)
	return out, nil
}

// Read reads an attribute, "motor0/position"; the text ends with a line feed.
func (b *Bed) Read(name string) (string, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.advance()
	m, attribute, err := b.find("read", name)
	if err != nil {
		return "", err
	}
	text, err := m.read(attribute)
	if err != nil {
		return "", &fs.PathError{Op: "read", Path: name, Err: err}
	}
	return text + "\n", nil
}

// Write writes an attribute.
func (b *Bed) Write(name, value string) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.advance()
	m, attribute, err := b.find("write", name)
	if err != nil {
		return err
	}
	if err := m.write(attribute, strings.TrimSuffix(value, "\n")); err != nil {
		return &fs.PathError{Op: "write", Path: name, Err: err}
	}
	return nil
}

func (b *Bed) find(op, name string) (*motor, string, error) {
	folder, attribute := path.Split(name)
	if m := b.motors[strings.TrimSuffix(folder, "/")]; m != nil {
		return m, attribute, nil
	}
	if before, after, ok := strings.Cut(name, "/"); ok { // speed_pid/Kp
		if m := b.motors[before]; m != nil {
			return m, after, nil
		}
	}
	return nil, "", &fs.PathError{Op: op, Path: name, Err: syscall.ENOENT}
}

// Unplug takes the motor at a port away and returns what plugs it in again, under
// the next number and as new.
func (b *Bed) Unplug(address string) (plug func()) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.advance()
	for name, m := range b.motors {
		if m.Address == address {
			delete(b.motors, name)
			return func() {
				b.mu.Lock()
				defer b.mu.Unlock()
				again := newMotor(m.Kind)
				again.turned = m.turned
				again.zero = m.turned
				b.plug(again)
			}
		}
	}
	return func() {}
}

// Carriage is where a machine on the motors is by now, mm.
func (b *Bed) Carriage(m *built.Machine) (x, y float64) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.advance()
	return m.Carriage()
}

// Twist is how far the motors of an axis disagree, counts.
func (b *Bed) Twist(axis int) float64 {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.advance()
	on := b.on(axis)
	if len(on) < 2 {
		return 0
	}
	return on[0].along() - on[1].along()
}

// on are the motors of an axis, by number.
func (b *Bed) on(axis int) (out []*motor) {
	for i := range b.next {
		if m := b.motors[fmt.Sprintf("motor%d", i)]; m != nil && m.Axis == axis {
			out = append(out, m)
		}
	}
	return out
}

// advance brings the motors to the clock's time, step by step.
func (b *Bed) advance() {
	for to := b.clock.Now(); b.now+step <= to; b.now += step {
		for axis := range mostAxes {
			b.turn(axis)
		}
	}
}

// turn lets one step pass for the motors of an axis, which the axis couples.
func (b *Bed) turn(axis int) {
	on := b.on(axis)
	if len(on) == 0 {
		return
	}
	mean := 0.0
	for _, m := range on {
		mean += m.along() / float64(len(on))
	}
	for _, m := range on {
		twist := (mean - m.along()) * stiffness
		m.step(step.Seconds(), m.way()*twist, func(way float64) bool { return b.load.Blocks(axis, way*m.way()) })
	}
	mean = 0
	for _, m := range on {
		mean += m.along() / float64(len(on))
	}
	b.load.Turn(axis, int64(math.Floor(mean+0.5))) // as a position is told: alike on both sides of where it began
}
