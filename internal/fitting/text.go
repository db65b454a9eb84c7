// SPDX-License-Identifier: Apache-2.0

package fitting

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Setting is a key of the rig file with its value as it stands there.
type Setting struct {
	Key   string `json:"key"`
	Value string `json:"value"`
}

// Settings are what the rig file should have: the values, and their tolerances.
func (f Fit) Settings(r *rig.Rig) (out []Setting) {
	put := func(key, value string) { out = append(out, Setting{key, value}) }
	quantity := func(key string, v fmt.Stringer) { put(key, strconv.Quote(v.String())) }
	number := func(key string, v float64) { put(key, strconv.FormatFloat(v, 'g', 3, 64)) }
	tolerance := func(key string, share float64) {
		number("tolerance."+key+".within", math.Min(0.5, 2*share))
		put("tolerance."+key+".shape", `"normal"`)
		put("tolerance."+key+".source", `"boardhand fit"`)
	}
	if f.Drive.Readings > 0 {
		quantity("lift.grade", unit.FluxDensity(rounded(f.Drive.Value, 4)))
		quantity("pieces.magnet.grade", unit.FluxDensity(rounded(f.Base.Value, 4)))
		tolerance("remanence", f.remanence())
	}
	if f.Friction.Readings > 0 {
		kinetic := r.Board.Kinetic / r.Board.Friction * f.Friction.Value
		number("board.friction", f.Friction.Value)
		number("board.kinetic", math.Min(kinetic, f.Friction.Value))
		tolerance("friction", f.Friction.share())
	}
	if f.Rate.Readings > 0 {
		quantity("lift.preload", unit.Force(rounded(f.Preload.Value, 3)))
		quantity("lift.spring", unit.Stiffness(rounded(f.Rate.Value, 3)))
		tolerance("spring", f.Preload.share())
	}
	return out
}

// share is the standard deviation over the value.
func (e Estimate) share() float64 { return e.Sigma / e.Value }

// remanence is the standard deviation of each magnet's, as a share, so that that of their
// product, drawn by chance for both, is the one that was measured.
func (f Fit) remanence() float64 {
	if f.IsSplit {
		return f.Strength.share() / math.Sqrt2
	}
	return max(f.Drive.share(), f.Base.share())
}

// rounded keeps so many digits.
func rounded(v float64, digits int) float64 {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
	return r
}

// Text is the fit for a terminal.
func (f Fit) Text(r *rig.Rig) string {
	var b strings.Builder
	line := func(what string, e Estimate, scale float64, unit, note string) {
		if e.Readings > 0 {
			fmt.Fprintf(&b, "%-24s %.4g ± %.2g %s  (%s%s)\n", what, e.Value*scale, e.Sigma*scale, unit, counted(e.Readings), note)
		}
	}
	split := ""
	if f.IsSplit {
		split = "; only the product of both is known: --pull-bases tells them apart"
	}
	line("forces", f.Strength, 1, "× the formula", "")
	line("drive magnet", f.Drive, 1, "T", split)
	line("base magnet", f.Base, 1, "T", split)
	line("friction, static", f.Friction, 1, "", "")
	line("spring's preload", f.Preload, 1, "N", "")
	line("spring's rate", f.Rate, 1e-3, "N/mm", "")
	b.WriteString("\nFor the rig file (± is one standard deviation; within is two):\n")
	for _, s := range f.Settings(r) {
		fmt.Fprintf(&b, "  %s = %s\n", s.Key, s.Value)
	}
	return b.String()
}

func counted(n int) string {
	if n == 1 {
		return "1 reading"
	}
	return fmt.Sprintf("%d readings", n)
}

// Write puts the settings into the text of a rig file, notes kept.
func (f Fit) Write(text string, r *rig.Rig) (string, error) {
	for _, s := range f.Settings(r) {
		var err error
		if text, err = rig.Patch(text, s.Key, s.Value); err != nil {
			return "", fmt.Errorf("%s: %w", s.Key, err)
		}
	}
	return text, nil
}
