// SPDX-License-Identifier: Apache-2.0

package drive

import (
	"fmt"
	"math"

	"boardhand/internal/unit"
)

// Screw is a power screw under an axial load.
type Screw struct {
	Mean     unit.Length // mean thread diameter
	Lead     unit.Length // travel a turn
	Flank    unit.Angle  // half the thread angle: 0 square, 14.5° Acme, 15° trapezoidal
	Friction float64     // in the thread
	Collar   unit.Length // mean diameter of the thrust collar; 0: ball bearing, none
	Rub      float64     // friction in the collar
}

// Check says what is wrong with the screw.
func (s Screw) Check() error {
	switch {
	case !(s.Friction >= 0 && s.Friction <= 1) || !(s.Rub >= 0 && s.Rub <= 1):
		return fmt.Errorf("screw friction must be 0–1; got %g in the thread, %g in the collar", s.Friction, s.Rub)
	case !(s.Flank >= 0 && s.Flank <= unit.Degrees(45)):
		return fmt.Errorf("flank angle must be 0–45 deg; got %v", s.Flank)
	case !(s.Collar >= 0 && s.Collar <= 1):
		return fmt.Errorf("collar diameter must be 0–1000 mm; got %v", s.Collar)
	case s.effective()*float64(s.Lead) >= math.Pi*float64(s.Mean):
		return fmt.Errorf("a screw of lead %v on %v jams at friction %g: use a smaller lead or oil it", s.Lead, s.Mean, s.Friction)
	}
	return firstOf(above("mean thread diameter", float64(s.Mean), 1), above("screw lead", float64(s.Lead), 1))
}

// effective is thread friction raised by the flank: f·sec α.
func (s Screw) effective() float64 { return s.Friction / math.Cos(float64(s.Flank)) }

// Raise is the torque to move against a load: (F·dm/2)(l + π·f·dm)/(π·dm − f·l)
// + F·fc·dc/2. Range: as Check. Accuracy: that of the friction. Source:
// Shigley, Mechanical Engineering Design, ch. 8.
func (s Screw) Raise(load unit.Force) (unit.Torque, error) {
	f, d, l := s.effective(), float64(s.Mean), float64(s.Lead)
	t := float64(load)*d/2*(l+math.Pi*f*d)/(math.Pi*d-f*l) + s.collar(load)
	return unit.Torque(t), s.Check()
}

func (s Screw) collar(load unit.Force) float64 { return float64(load) * s.Rub * float64(s.Collar) / 2 }

// Efficiency is F·l/(2π·T_raise). Source: as Raise.
func (s Screw) Efficiency() (float64, error) {
	t, err := s.Raise(1)
	return float64(s.Lead) / (2 * math.Pi * float64(t)), err
}
