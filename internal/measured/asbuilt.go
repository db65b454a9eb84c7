// SPDX-License-Identifier: Apache-2.0

package measured

import (
	"fmt"

	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// AsBuilt turns a rig into the machine as it was measured, for judging it: backlash,
// where the field's centre lies on the axes and what they reach, and the tolerances that the
// rig file leaves open: two standard deviations each. It says what it changed;
// the error what to do where nothing was measured.
func (f *File) AsBuilt(r *rig.Rig) (changed []string, err error) {
	if f.Axes == nil {
		return nil, fmt.Errorf("%s says nothing of the axes: run `boardhand bringup %s` first", Beside(r.Path), r.Path)
	}
	put := func(key string, at *unit.Length, to unit.Length) {
		changed = append(changed, fmt.Sprintf("%s %.2f mm, planned %.2f", key, to.MM(), at.MM()))
		*at = to
	}
	m := f.Axes.Estimated()
	r.Built = Built(r, m)
	for k, a := range []*rig.Axis{&r.Axis.X, &r.Axis.Y} {
		name := "axis." + [2]string{"x", "y"}[k]
		put(name+".backlash", &a.Backlash, unit.Length(r.Built.Backlash[k]))
		put(name+".origin", &a.Origin, unit.Length([2]float64{r.Built.MachineFromBoard.T.X, r.Built.MachineFromBoard.T.Y}[k]))
		if s := f.Speed; s != nil && s.Lost > 0 && s.Kept < a.Speed {
			changed = append(changed, fmt.Sprintf("%s.speed %.0f mm/s, planned %.0f", name, float64(s.Kept)*1e3, float64(a.Speed)*1e3))
			a.Speed = s.Kept
		}
	}
	spread := func(key string, at *rig.LengthTolerance, sigma unit.Length) {
		if at.Within == nil && sigma > 0 {
			within := 2 * sigma
			*at = rig.LengthTolerance{Within: &within, Shape: "normal", Source: "bring-up, " + f.Axes.When}
			changed = append(changed, fmt.Sprintf("tolerance.%s %.2f mm", key, within.MM()))
		}
	}
	spread("placement", &r.Tolerance.Placement, f.Axes.RMS)
	spread("field", &r.Tolerance.Field, max(f.Axes.CentreSigma[0], f.Axes.CentreSigma[1]))
	return changed, nil
}
