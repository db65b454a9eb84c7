// SPDX-License-Identifier: Apache-2.0

// Package bed puts a simulated controller between a driver and the twin: what the
// controller's motors truly do turns the motors of the twin, in virtual time, over a wire
// that spoils commands. It knows no driver.
package bed

import (
	"sync"
	"time"

	"boardhand/internal/frame"
	"boardhand/internal/gantry/clock"
)

// World is what hangs on the motors.
type World interface {
	// Turn lets seconds pass in which the axes turn evenly to a place, metres from where
	// homing leaves them, and the lift to a share of its way, 0 lowered to 1 raised.
	Turn(to frame.Spot[frame.Machine], lift, seconds float64)
}

// Axis is an axis as its controller is set for it.
type Axis struct {
	PerMM  float64 // counts or steps in a millimetre
	Travel float64 // mm
	Speed  float64 // mm/s
	Accel  float64 // mm/s²
	Start  float64 // where it stands when the power comes, mm from where homing leaves it
	Port   string  // of its motor, or of two; tacho motors only
	Counts int     // of its motor, a turn; tacho motors only
	Free   float64 // turns a second, unloaded; tacho motors only
}

// Build is a machine with its controller.
type Build struct {
	Axes     [2]Axis
	Drop     float64 // of the lift, mm
	Speed    float64 // of the lift, mm/s
	Lift     string  // gcode: "axis", "spindle" or "coolant"
	LiftPort string  // tacho: of its motor
	Settle   time.Duration
	Baud     int
}

// Counts are what a bed has counted.
type Counts struct {
	Commands    int            // sent by the driver: lines and real-time bytes, or attributes written
	Ills        map[string]int // commands that were spoilt on the wire, by what happened to them
	Resets      int            // of the controller
	Homings     int            // that found all zeros
	Reconnected int            // times a plug was put in again
	Starved     int            // times the planner ran dry within a stroke, the wire in time
	Delayed     int            // times it did because a line or an answer came late
	Missed      float64        // mm that motors turned in vain
}

// follower turns the world as a machine has moved.
type follower struct {
	world World
	to    frame.Spot[frame.Machine]
	lift  float64
	now   time.Duration
	moved time.Duration // when something last did
}

// pass lets the time pass until now. Of a long rest nothing is turned; between two slow
// steps the time counts.
func (f *follower) pass(now time.Duration, to frame.Spot[frame.Machine], lift float64) {
	if to != f.to || lift != f.lift {
		f.moved = now
	}
	if now-f.moved < linger && now > f.now {
		f.world.Turn(to, lift, (now - f.now).Seconds())
	}
	f.to, f.lift, f.now = to, lift, now
}

// share is how far a lift is on its way, 0 to 1; within a step of its end it is there.
func share(at, drop float64) float64 {
	switch up := at / drop; {
	case up < liftHair:
		return 0
	case up > 1-liftHair:
		return 1
	default:
		return up
	}
}

// process runs a bed in virtual time until it is closed.
type process struct {
	clock *clock.Virtual
	mu    sync.Mutex
	poke  chan struct{} // closed and renewed when something was sent
	over  chan struct{}
}

func newProcess(c *clock.Virtual) process {
	return process{clock: c, poke: make(chan struct{}), over: make(chan struct{})}
}

// run does what is due, and waits for as long as it says.
func (p *process) run(due func() time.Duration) {
	for {
		p.mu.Lock()
		wait, poke := due(), p.poke
		p.mu.Unlock()
		if p.clock.Wait(wait, p.over, poke) == 0 {
			return
		}
	}
}

// wake has the bed look at what was sent; mu is held.
func (p *process) wake() {
	close(p.poke)
	p.poke = make(chan struct{})
}

// Close ends the bed and lets what lives in its time end.
func (p *process) Close() {
	close(p.over)
	p.clock.Wait(time.Second)
}
