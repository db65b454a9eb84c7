// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"errors"
)

// ErrPowerCut says that the power went while this gantry was in use.
var ErrPowerCut = errors.New("the machine lost its power: when it is back, begin a new session")

// PowerCut takes the power away and gives it back. The motion under way stops
// where it is, the axes no longer know where they are, and the lift drops or
// stays, as chance has it. Pieces stay as they are, half carried or in the
// guest's hand. Every Gantry handed out before answers ErrPowerCut from then on.
func (w *World) PowerCut() {
	w.power.isGone.Store(true)
	w.mu.Lock()
	defer w.mu.Unlock()
	w.lightsOut()
}

// PowerCutAfter cuts the power when the carriage or the lift has moved for some
// seconds of world time from now; 0 takes that back. For breaks that fall at
// the same moment in every run.
func (w *World) PowerCutAfter(seconds float64) {
	w.mu.Lock()
	w.power.left = seconds
	w.mu.Unlock()
}

// lightsOut is what a cut does, once.
func (w *World) lightsOut() {
	if !w.power.isGone.Swap(false) {
		return
	}
	w.power.times.Add(1)
	w.power.left = 0
	w.carriage.Stop()
	w.homed = false
	w.halted.Store(false)
	if w.power.chance.Float64() < dropShare {
		w.carriage.Lift = 0
	}
	w.settle()
	w.table.TakeGrip(w.magnet())
	w.keep()
}

// isOn says whether the machine is still the one that was handed out.
func (g *Gantry) isOn() error {
	if g.power != g.w.power.times.Load() {
		return ErrPowerCut
	}
	return nil
}
