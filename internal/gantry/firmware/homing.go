// SPDX-License-Identifier: Apache-2.0

package firmware

import (
	"math"

	"boardhand/internal/gantry/firmware/blocks"
	"boardhand/internal/gantry/firmware/settings"
	"boardhand/internal/gantry/firmware/words"
)

// The stages of a homing cycle.
const (
	seekSwitch = iota
	leaveSwitch
	locateSwitch
	leaveAgain
	stages
)

// homing is a homing that runs: one group of axes after the other is sent to its
// switches, off them, slowly onto them again and off.
type homing struct {
	cycle, stage int
	start        blocks.Vector
	speed        blocks.Vector // of each axis, mm/s
	arrived      [blocks.Axes]bool
	wait         float64 // of the debounce, s
}

// beginHoming is $H.
func (f *Firmware) beginHoming() error {
	switch {
	case !f.set.Is(settings.Homing):
		return words.HomingOff
	case f.state != idle && f.state != alarmed:
		return words.NotIdle
	}
	f.state, f.isBusy = homes, true
	f.homing = &homing{start: f.at}
	f.todo = append(f.todo, func() bool { return f.homing == nil })
	return nil
}

// home runs the homing for dt seconds.
func (f *Firmware) home(dt float64) {
	h := f.homing
	if h.wait > 0 {
		h.wait -= dt
		return
	}
	isDone := true
	for _, i := range f.options.Cycles[h.cycle] {
		if !h.arrived[i] {
			isDone = f.seek(i, dt) && isDone
		}
		if f.homing == nil { // an alarm
			return
		}
	}
	if isDone {
		f.nextStage()
	}
}

// seek runs one axis for dt seconds; true: its stage is over.
func (f *Firmware) seek(i int, dt float64) bool {
	h := f.homing
	toSwitch := h.stage == seekSwitch || h.stage == locateSwitch
	way, rate, most := f.set.Toward(i), f.set[settings.HomingSeek]/60, seekShare*f.set.Axis(settings.Travel)[i]
	if h.stage == locateSwitch {
		rate, most = f.set[settings.HomingFeed]/60, locateShare*f.set[settings.PullOff]
	}
	if !toSwitch {
		way, most = -way, f.set[settings.PullOff]
	}
	gone := math.Abs(f.at[i] - h.start[i])
	accel := f.set.Axis(settings.Accel)[i]
	h.speed[i] = min(rate, h.speed[i]+accel*dt)
	if !toSwitch { // ends at rest, to within a step
		h.speed[i] = min(h.speed[i], math.Sqrt(2*accel*max(0, most-gone))+accel*dt)
	}
	f.at[i] += way * min(h.speed[i]*dt, max(0, most-gone))
	f.turn()
	switch {
	case toSwitch && f.axes.IsClosed(i):
		h.arrived[i] = true
	case most-gone <= h.speed[i]*dt && toSwitch:
		f.alarm(9)
	case most-gone <= h.speed[i]*dt:
		h.arrived[i] = true
	}
	return h.arrived[i]
}

// nextStage goes on to the next stage, group or end.
func (f *Firmware) nextStage() {
	h := f.homing
	axes := f.options.Cycles[h.cycle]
	if h.stage == leaveSwitch || h.stage == leaveAgain {
		for _, i := range axes {
			if f.axes.IsClosed(i) {
				f.alarm(8)
				return
			}
		}
	}
	wait := f.set[settings.Debounce] / 1000
	*h = homing{cycle: h.cycle, stage: h.stage + 1, start: f.at, wait: wait}
	if h.stage < stages {
		return
	}
	f.zero(axes)
	*h = homing{cycle: h.cycle + 1, start: f.at, wait: wait}
	if h.cycle == len(f.options.Cycles) {
		f.homing, f.state, f.hasHome, f.lost = nil, idle, true, false
		f.run.synced = true
		f.count.Homings++
	}
}

// zero says where axes are that have just left their switches: at the positive
// end that is the pull-off below zero, at the negative end above the travel.
// From memory of the open firmware.
func (f *Firmware) zero(axes []int) {
	at := f.at
	for _, i := range axes {
		at[i] = -f.set[settings.PullOff]
		if f.set.Toward(i) < 0 {
			at[i] = f.set[settings.PullOff] - f.set.Axis(settings.Travel)[i]
		}
	}
	f.moved(at)
}
