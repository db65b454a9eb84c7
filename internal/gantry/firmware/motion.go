// SPDX-License-Identifier: Apache-2.0

package firmware

import (
	"fmt"
	"math"
	"time"

	"boardhand/internal/gantry/firmware/blocks"
	"boardhand/internal/gantry/firmware/modal"
	"boardhand/internal/gantry/firmware/settings"
	"boardhand/internal/gantry/firmware/words"
)

// starvation is what tells whether a stroke's blocks come too late.
type starvation struct {
	dry    time.Duration // when the queue ran dry; 0: it did not
	synced bool          // something parted the strokes since
}

// plan puts a move into the queue; false: there is no room yet.
func (f *Firmware) plan(c modal.Command) bool {
	switch {
	case f.isBeyond(c.To):
		return f.stopSoftly()
	case f.queue.Len() >= blocks.Capacity:
		return false
	}
	if !f.isStep(c.To) {
		return true
	}
	f.noteStarvation()
	if f.queue.Add(c.To, c.Feed) {
		f.count.Blocks++
		if f.state == idle {
			f.state = running
		}
	}
	return true
}

// isStep says whether a motion from the planner's place turns any motor by a step; one
// that does not is no block (from memory of the open firmware).
func (f *Firmware) isStep(to blocks.Vector) bool {
	from := f.queue.End()
	for i, steps := range f.set.Axis(settings.StepsPerMM) {
		if math.Round(to[i]*steps) != math.Round(from[i]*steps) {
			return true
		}
	}
	return false
}

// noteStarvation counts a block of a stroke that came too late.
func (f *Firmware) noteStarvation() {
	switch {
	case f.run.synced || f.state == jogging:
	case f.queue.Len() == 0 && f.run.dry > 0 && f.now-f.run.dry <= soonAfter:
		f.count.Starved++
	case f.queue.IsLastBraking():
		f.count.Braked++
	}
	f.run = starvation{}
}

// isBeyond says whether a place is outside the soft limits.
func (f *Firmware) isBeyond(to blocks.Vector) bool {
	if !f.set.Is(settings.SoftLimits) {
		return false
	}
	for i, travel := range f.set.Axis(settings.Travel) {
		if to[i] > hair || to[i] < -travel-hair {
			return true
		}
	}
	return false
}

// hair is what rounding may put a place beyond a limit, mm.
const hair = 1e-9

// stopSoftly slows down and then raises the alarm of the soft limits: where the
// machine is stays known.
func (f *Firmware) stopSoftly() bool {
	f.queue.Hold()
	if f.queue.Len() > 0 && f.queue.Speed() > 0 {
		return false
	}
	f.alarm(2)
	return true
}

// hitLimit stops dead when a switch closes in motion, if hard limits are on.
func (f *Firmware) hitLimit() bool {
	if !f.set.Is(settings.HardLimits) {
		return false
	}
	for i := range blocks.Axes {
		if f.axes.IsClosed(i) {
			f.lost = true
			f.alarm(1)
			return true
		}
	}
	return false
}

// alarm stops everything; 1 and 2 want a reset.
func (f *Firmware) alarm(n int) {
	f.count.Alarms++
	f.queue.Flush()
	f.homing = nil
	f.doing = doing{mustReset: n <= 2}
	f.state, f.modal.At = alarmed, f.at
	f.say(fmt.Sprintf("ALARM:%d", n))
	if f.mustReset {
		f.say("[MSG:Reset to continue]")
	}
}

// reset is the soft reset: in motion the place is lost.
func (f *Firmware) reset() {
	f.count.Resets++
	switch {
	case f.homing != nil:
		f.alarm(6)
	case f.queue.Speed() > 0:
		f.lost, f.hasHome = true, false
		f.alarm(3)
	case f.mustReset && f.lost:
		f.hasHome = false
	}
	if f.state != alarmed {
		f.state = idle
	}
	f.at = f.queue.Position()
	f.begin()
}

// hold slows down to rest; a jog ends there.
func (f *Firmware) hold() {
	switch f.state {
	case running, jogging:
		f.queue.Hold()
		if f.state == running {
			f.state = held
		}
		f.settle(false)
	case idle:
		f.queue.Hold()
		f.state = held
	}
}

// resume goes on after a hold, a door or M0.
func (f *Firmware) resume() {
	if (f.state != held && f.state != door) || f.queue.Speed() > 0 {
		return
	}
	if f.state == door {
		f.axes.Spindle(f.capped(f.turning()), f.now)
	}
	f.queue.Resume()
	f.state = idle
	if f.queue.Len() > 0 {
		f.state = running
	}
}

// turning is the spindle's programmed speed, below 0 counterclockwise.
func (f *Firmware) turning() float64 {
	return map[int]float64{3: f.modal.Speed, 4: -f.modal.Speed}[f.modal.Direction]
}

// openDoor holds and stops the spindle; while homing it is an alarm.
func (f *Firmware) openDoor() {
	switch f.state {
	case homes:
		f.alarm(7)
	case idle, running, held, jogging:
		f.queue.Hold()
		f.state = door
		f.axes.Spindle(0, f.now)
	}
}

// sleep stops the outputs; only a reset wakes the controller.
func (f *Firmware) sleep() {
	f.axes.Spindle(0, f.now)
	f.axes.Flood(false, f.now)
	f.state = asleep
	f.say("[MSG:Sleeping]")
	f.say("ok")
}

// unlock ends the lock of an alarm.
func (f *Firmware) unlock() error {
	if f.state == alarmed {
		f.state = idle
		f.say("[MSG:Caution: Unlocked]")
	}
	f.isBusy = true
	return nil
}

// jog plans a jog; beyond the travel it is refused without an alarm.
func (f *Firmware) jog(text string) error {
	if f.state != idle && f.state != jogging {
		return words.NotIdle
	}
	l, err := words.Parse(text)
	if err != nil {
		return err
	}
	c, err := f.modal.Jog(l)
	if err != nil {
		return err
	}
	if f.isBeyond(c.To) {
		return words.JogBeyondTravel
	}
	f.modal.At = c.To
	f.state, f.isBusy = jogging, true
	f.todo = append(f.todo, func() bool {
		if f.state != jogging { // cancelled meanwhile
			return true
		}
		done := f.plan(c)
		if f.queue.Len() == 0 && f.state == jogging { // no way to go
			f.state = idle
		}
		return done
	})
	return nil
}
