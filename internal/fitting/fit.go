// SPDX-License-Identifier: Apache-2.0

package fitting

import (
	"errors"
	"fmt"
	"math"

	"boardhand/internal/coupling"
	"boardhand/internal/drag"
	"boardhand/internal/magnet"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Estimate is one quantity with its standard deviation, in SI units.
type Estimate struct {
	Value    float64 `json:"value"`
	Sigma    float64 `json:"sigma"`
	Readings int     `json:"readings"`
}

// Fit is what the readings say; a quantity without readings has none of its own.
type Fit struct {
	Strength Estimate `json:"strength"` // forces of drive and base magnet over the formula's, at the middle of their grades
	Drive    Estimate `json:"drive_T"`  // remanence
	Base     Estimate `json:"base_T"`
	IsSplit  bool     `json:"is_split"` // only the product of both is known, and was split evenly
	Friction Estimate `json:"friction"`
	Preload  Estimate `json:"preload_N"`
	Rate     Estimate `json:"rate_N_m"`
}

// Of fits a rig's numbers to readings.
func Of(r *rig.Rig, in Readings) (Fit, error) {
	var f Fit
	if len(in.Pulls)+len(in.Bases)+len(in.Tilts)+len(in.Slips)+len(in.Presses) == 0 {
		return f, errors.New("nothing was measured: give --pull \"62 g at 5 mm\", --tilt \"17 deg\", --slip \"king at 3.1 mm\" or --press \"52 g at 0 mm\", each as often as you like")
	}
	if len(in.Bases) > 0 && len(in.Pulls) == 0 {
		return f, errors.New("--pull-bases tells the two magnets of a pair apart: give --pull too")
	}
	c, err := coupling.Of(r)
	if err != nil {
		return f, err
	}
	if err := f.magnets(c, in); err != nil {
		return f, err
	}
	if err := f.friction(c, in); err != nil {
		return f, err
	}
	return f, f.spring(in.Presses)
}

// magnets fits the remanences: forces go with the product of both.
func (f *Fit) magnets(c coupling.Coupling, in Readings) error {
	if len(in.Pulls) == 0 {
		return nil
	}
	p, err := strength(c.Pair, in.Pulls)
	if err != nil {
		return err
	}
	f.Strength = p
	drive, base := float64(c.Pair.Lower.Br), float64(c.Pair.Upper.Br)
	half := Estimate{math.Sqrt(p.Value), p.Sigma / (2 * math.Sqrt(p.Value)), p.Readings}
	f.IsSplit = len(in.Bases) == 0
	if f.IsSplit {
		f.Drive, f.Base = half.times(drive), half.times(base)
		return nil
	}
	b, err := strength(drag.Pair{Lower: c.Pair.Upper, Upper: c.Pair.Upper}, in.Bases)
	if err != nil {
		return err
	}
	share := math.Sqrt(b.Value)
	f.Base = Estimate{share, b.Sigma / (2 * share), b.Readings}.times(base)
	of := p.Value / share
	f.Drive = Estimate{of, of * math.Hypot(p.Sigma/p.Value, b.Sigma/b.Value/2), p.Readings}.times(drive)
	return nil
}

func (e Estimate) times(k float64) Estimate { return Estimate{e.Value * k, e.Sigma * k, e.Readings} }

// strength is how many times the formula's force pulls are. Accuracy: of the readings;
// gaps within the formula's range.
func strength(pair drag.Pair, pulls []Pull) (Estimate, error) {
	var all []Estimate
	for _, p := range pulls {
		at, err := magnet.Force(pair.Lower, pair.Upper, p.Gap, 0)
		if err != nil {
			return Estimate{}, err
		}
		near, err := magnet.Force(pair.Lower, pair.Upper, p.Gap+unit.Length(gapSigma), 0)
		if err != nil {
			return Estimate{}, err
		}
		v := float64(p.Force) / at.Axial
		byForce := math.Hypot(forceSigma/float64(p.Force), forceShare)
		byGap := 1 - near.Axial/at.Axial
		all = append(all, Estimate{v, v * math.Hypot(byForce, byGap), 1})
	}
	e := mean(all)
	if !(e.Value > 0.3 && e.Value < 2) {
		return e, fmt.Errorf("the pulls are %.2g times what these magnets can do: check sizes, grades, gaps, and that both attract face to face", e.Value)
	}
	return e, nil
}

// mean is the mean of values weighted by their standard deviations. Its own is that of the
// weights, or that of the scatter where values lie farther apart than they should. Source:
// R. T. Birge, Phys. Rev. 40 (1932) 207 (from memory).
func mean(all []Estimate) (out Estimate) {
	var weight, sum float64
	for _, e := range all {
		w := 1 / (e.Sigma * e.Sigma)
		weight, sum = weight+w, sum+w*e.Value
		out.Readings += e.Readings
	}
	out.Value = sum / weight
	chi := 0.0
	for _, e := range all {
		d := (e.Value - out.Value) / e.Sigma
		chi += d * d
	}
	out.Sigma = math.Sqrt(max(1, chi/max(1, float64(len(all)-1))) / weight)
	return out
}

// friction fits the static friction: the tangent of the angle at which a piece slides, and
// the balance at the offset at which one breaks away.
func (f *Fit) friction(c coupling.Coupling, in Readings) error {
	var all []Estimate
	for _, a := range in.Tilts {
		t := math.Tan(float64(a))
		all = append(all, Estimate{t, tiltSigma * (1 + t*t), 1}) // d tan/dθ
	}
	for _, s := range in.Slips {
		e, err := f.slipped(c, s)
		if err != nil {
			return err
		}
		all = append(all, e)
	}
	if len(all) > 0 {
		f.Friction = mean(all)
	}
	return nil
}

// slipped is the friction at which a piece of a kind breaks away at an offset from the
// raised magnet: lateral/(m·g + axial). Source: Coulomb friction.
func (f *Fit) slipped(c coupling.Coupling, s Slip) (Estimate, error) {
	strong := 1.0
	if f.Strength.Readings > 0 {
		strong = f.Strength.Value
	}
	mu := func(strong, gap, x float64) (float64, error) {
		p, err := c.Pair.At(gap, x)
		return strong * p.Lateral / (c.Weight(s.Kind) + strong*p.Axial), err
	}
	gap, x := float64(c.Rig.Gap()), float64(s.Offset)
	v, err := mu(strong, gap, x)
	if err != nil {
		return Estimate{}, fmt.Errorf("--slip: %w", err)
	}
	if !(v > 0) {
		return Estimate{}, fmt.Errorf("--slip: %v off the axis the magnet pulls nothing back; a piece breaks away nearer to it", s.Offset)
	}
	byPlace, _ := mu(strong, gap, x+offsetSigma)
	byGap, _ := mu(strong, gap+gapSigma, x)
	byStrength, _ := mu(strong+f.Strength.Sigma, gap, x)
	return Estimate{v, math.Hypot(math.Hypot(byPlace-v, byGap-v), byStrength-v), 1}, nil
}

// spring fits preload and rate: a line through the presses. Source: weighted least squares,
// any text.
func (f *Fit) spring(all []Press) error {
	if len(all) == 0 {
		return nil
	}
	var w, wx, wy, wxx, wxy float64
	for _, p := range all {
		s := math.Hypot(forceSigma, forceShare*float64(p.Force))
		x, y, k := float64(p.Way), float64(p.Force), 1/(s*s)
		w, wx, wy, wxx, wxy = w+k, wx+k*x, wy+k*y, wxx+k*x*x, wxy+k*x*y
	}
	d := w*wxx - wx*wx
	if !(d > 1e-9*w*wxx) {
		return errors.New("--press: give it at two ways at least, like \"52 g at 0 mm\" and \"83 g at 3 mm\"")
	}
	f.Rate = Estimate{(w*wxy - wx*wy) / d, math.Sqrt(w / d), len(all)}
	f.Preload = Estimate{(wxx*wy - wx*wxy) / d, math.Sqrt(wxx / d), len(all)}
	chi := 0.0
	for _, p := range all {
		off := (float64(p.Force) - f.Preload.Value - f.Rate.Value*float64(p.Way)) / math.Hypot(forceSigma, forceShare*float64(p.Force))
		chi += off * off
	}
	if k := math.Sqrt(chi / max(1, float64(len(all)-2))); k > 1 && len(all) > 2 {
		f.Rate.Sigma, f.Preload.Sigma = f.Rate.Sigma*k, f.Preload.Sigma*k
	}
	if !(f.Rate.Value > 0) {
		return errors.New("--press: the spring presses back less the further it is pressed: check the readings")
	}
	return nil
}
