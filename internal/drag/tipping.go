// SPDX-License-Identifier: Apache-2.0

package drag

import (
	"fmt"
	"math"

	"boardhand/internal/magnet"
	"boardhand/internal/unit"
)

// Figure is what matters of a piece for tipping.
type Figure struct {
	Mass    unit.Mass
	Base    unit.Length // diameter of the base it stands on
	Balance unit.Length // height of the centre of mass
	Recess  unit.Length // foot magnet's lower face over the surface
}

// Tipping is how a pulled piece stands.
type Tipping struct {
	Least  unit.Length // the base diameter that would just do
	Offset unit.Length // where it is needed
	Back   bool        // it would fall backwards, not towards the magnet
}

// Loads is what a magnet does to a disc over a range of offsets.
type Loads struct {
	offset []unit.Length
	load   []magnet.Load
}

// Loads computes the loads at a gap for offsets up to most. Range and accuracy
// as magnet.LoadOn.
func (p Pair) Loads(gap, most unit.Length) (Loads, error) {
	var out Loads
	for i := range loadPlaces + 1 {
		x := most * unit.Length(i) / loadPlaces
		l, err := magnet.LoadOn(p.Lower, p.Upper, gap, x)
		if err != nil {
			return Loads{}, err
		}
		out.offset, out.load = append(out.offset, x), append(out.load, l)
	}
	return out, nil
}

// Tip is the least base a piece needs while the magnet pulls it from offsets
// up to most, gaining or losing speed at a. The moments about the base's edge:
// the magnet's own moment on the disc, its lateral pull at the disc's height,
// the piece's inertia at its centre of mass, against weight and axial pull at
// the base's middle. Range: as magnet.LoadOn. Accuracy 1 %. Source: statics;
// the moment from direct integration over the charged discs.
func (f Figure) Tip(p Pair, gap, most unit.Length, a unit.Acceleration) (Tipping, error) {
	if !(most >= 0) {
		return Tipping{}, fmt.Errorf("offset must be 0 or more; got %v", most)
	}
	l, err := p.Loads(gap, most)
	if err != nil {
		return Tipping{}, err
	}
	return f.TipUnder(l, a)
}

// TipUnder is Tip with loads computed before.
func (f Figure) TipUnder(loads Loads, a unit.Acceleration) (Tipping, error) {
	if !(float64(f.Mass) > 0) || !(f.Base > 0) || !(f.Balance > 0) || !(f.Recess >= 0) {
		return Tipping{}, fmt.Errorf("tipping needs a mass, a base and a centre of mass above 0; got %v, %v, %v", f.Mass, f.Base, f.Balance)
	}
	var worst Tipping
	for i, l := range loads.load {
		if f.worse(&worst, l, math.Abs(float64(a))) {
			worst.Offset = loads.offset[i]
		}
	}
	return worst, nil
}

// worse takes the load into t and says whether it needs a larger base.
func (f Figure) worse(t *Tipping, l magnet.Load, a float64) bool {
	down := float64(f.Mass)*Gravity + l.Axial
	pull := l.Tip + l.Lateral*float64(f.Recess)
	inertia := float64(f.Mass) * a * float64(f.Balance)
	toward, back := pull+inertia, inertia-pull // braking throws it forward, starting back
	need := 2 * max(toward, back) / down
	if down <= 0 {
		need = math.MaxFloat64 // the magnet lifts it: no base is enough
	}
	if unit.Length(need) <= t.Least {
		return false
	}
	t.Least, t.Back = unit.Length(need), back > toward
	return true
}
