// SPDX-License-Identifier: Apache-2.0

// Package drag computes what a magnet under a board does to the pieces on it:
// how far a piece lags, when it slips, which neighbours are dragged along,
// when one tips, and how to leave it centred. Statics with dry friction;
// arithmetic only.
//
// Frame: offsets are between the axes of the drive magnet and of the base
// magnet, gaps between their facing faces, both in metres inside.
package drag

import (
	"fmt"
	"math"

	"boardhand/internal/magnet"
	"boardhand/internal/unit"
)

// Gravity is the standard acceleration of free fall, m/s² (CGPM 1901).
const Gravity = 9.80665

// KineticShare is sliding friction as a share of static friction when only
// the static one is known. Source: IMO/ILO/UNECE CTU Code (2014), Annex 7,
// Appendix 2: 75 %.
const KineticShare = 0.75

// Puller gives the pull at a gap and an offset in metres: a magnet.Map, or a
// Pair for the full integral.
type Puller interface {
	At(gap, offset float64) (magnet.Pull, error)
}

// Pair is two magnets as a Puller, by the full integral.
type Pair struct{ Lower, Upper magnet.Cylinder }

// At is the full integral.
func (p Pair) At(gap, offset float64) (magnet.Pull, error) {
	f, err := magnet.Force(p.Lower, p.Upper, unit.Length(gap), unit.Length(math.Abs(offset)))
	if offset < 0 {
		f.Lateral = -f.Lateral
	}
	return f, err
}

// Scaled is a Puller with all forces times Times: other remanences with the
// same table, since forces go with the product of both.
type Scaled struct {
	Puller
	Times float64
}

// At scales.
func (s Scaled) At(gap, offset float64) (magnet.Pull, error) {
	p, err := s.Puller.At(gap, offset)
	return magnet.Pull{Axial: p.Axial * s.Times, Lateral: p.Lateral * s.Times}, err
}

// Stand is one piece standing over one magnet.
type Stand struct {
	Pull    Puller
	Gap     unit.Length // between the facing faces
	Mass    unit.Mass   // of the piece with its magnet
	Static  float64     // friction of the base on the surface
	Kinetic float64
	Reach   unit.Length // how far out to look; 80 mm when zero
}

// Check says what is wrong with the stand.
func (s Stand) Check() error {
	switch {
	case s.Pull == nil:
		return fmt.Errorf("no force law given: set Pull to a force map or a pair of magnets")
	case !(float64(s.Mass) > 0 && float64(s.Mass) <= mostMass):
		return fmt.Errorf("piece mass must be above 0 and at most %g kg; got %v", mostMass, s.Mass)
	case !(s.Static > 0 && s.Static <= mostFriction):
		return fmt.Errorf("static friction must be above 0 and at most %g; got %g", mostFriction, s.Static)
	case !(s.Kinetic > 0 && s.Kinetic <= s.Static):
		return fmt.Errorf("sliding friction must be above 0 and at most the static %g; got %g", s.Static, s.Kinetic)
	case !(s.Reach >= 0 && s.Reach <= 1):
		return fmt.Errorf("reach must be 0–1000 mm; got %v", s.Reach)
	}
	return nil
}

func (s Stand) reach() float64 {
	if s.Reach == 0 {
		return usualReach
	}
	return float64(s.Reach)
}

// weight in newtons.
func (s Stand) weight() float64 { return float64(s.Mass) * Gravity }

// Normal is the force between base and surface, newtons: weight plus axial
// pull, never below zero.
func (s Stand) Normal(p magnet.Pull) float64 { return max(s.weight()+p.Axial, 0) }

// Net is the pull back to the magnet's axis left over after friction mu, N.
func (s Stand) Net(offset unit.Length, mu float64) (float64, error) {
	p, err := s.Pull.At(float64(s.Gap), float64(offset))
	return p.Lateral - mu*s.Normal(p), err
}

// curve samples f over offsets from 0 to the reach and reports the first error.
func (s Stand) curve(f func(magnet.Pull) float64) (value []float64, err error) {
	value = make([]float64, s.places())
	for i := range value {
		if value[i], err = s.at(s.place(i), f); err != nil {
			return nil, err
		}
	}
	return value, nil
}

// places is how many samples a scan to the reach takes.
func (s Stand) places() int { return int(math.Round(s.reach()/scanStep)) + 1 }

// place is the offset of sample i; the last is never beyond the reach.
func (s Stand) place(i int) float64 { return min(float64(i)*scanStep, s.reach()) }

func (s Stand) at(x float64, f func(magnet.Pull) float64) (float64, error) {
	p, err := s.Pull.At(float64(s.Gap), x)
	return f(p), err
}

// crossing narrows a change of sign of f between two offsets.
func (s Stand) crossing(lo, hi float64, f func(magnet.Pull) float64) (unit.Length, error) {
	first, err := s.at(lo, f)
	for err == nil && hi-lo > settled {
		mid := (lo + hi) / 2
		var v float64
		if v, err = s.at(mid, f); (v > 0) == (first > 0) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return unit.Length((lo + hi) / 2), err
}

// highest narrows a largest value of f around sample i by golden section.
func (s Stand) highest(i int, f func(magnet.Pull) float64) (x, value float64, err error) {
	const golden = 0.6180339887498949
	lo, hi := s.place(max(i-1, 0)), s.place(i+1)
	for hi-lo > settled {
		a, b := hi-golden*(hi-lo), lo+golden*(hi-lo)
		va, err := s.at(a, f)
		if err != nil {
			return 0, 0, err
		}
		vb, err := s.at(b, f)
		if err != nil {
			return 0, 0, err
		}
		if va > vb {
			hi = b
		} else {
			lo = a
		}
	}
	x = (lo + hi) / 2
	value, err = s.at(x, f)
	return x, value, err
}
