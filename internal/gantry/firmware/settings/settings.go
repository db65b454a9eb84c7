// SPDX-License-Identifier: Apache-2.0

// Package settings are the numbered settings of the simulated G-code firmware.
// Source: repository gnea/grbl, doc/markdown and doc/csv.
package settings

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"boardhand/internal/gantry/firmware/blocks"
	"boardhand/internal/gantry/firmware/words"
)

// The settings that this package or its users name.
const (
	Pulse        = 0   // µs
	ReportMask   = 10  // 1: machine position, else work position; 2: the buffers' state
	Deviation    = 11  // of junctions, mm
	ArcTolerance = 12  // mm
	Inches       = 13  // reports in inches
	SoftLimits   = 20  // on or off
	HardLimits   = 21  // on or off
	Homing       = 22  // on or off
	HomingSide   = 23  // bit of an axis: homes towards minus
	HomingFeed   = 24  // to locate the switch, mm/min
	HomingSeek   = 25  // to search for it, mm/min
	Debounce     = 26  // ms
	PullOff      = 27  // mm
	SpindleMax   = 30  // rpm
	SpindleMin   = 31  // rpm
	StepsPerMM   = 100 // and 101, 102
	Rate         = 110 // of each axis, mm/min
	Accel        = 120 // mm/s²
	Travel       = 130 // mm
)

// defaults are the values printed in the documents; 2 to 6, 10 to 13 and 20 to 23
// stand there as an ellipsis and are from memory.
var defaults = map[int]float64{0: 10, 1: 25, 2: 0, 3: 0, 4: 0, 5: 0, 6: 0, 10: 1, 11: 0.01, 12: 0.002, 13: 0,
	20: 0, 21: 0, 22: 0, 23: 0, 24: 25, 25: 500, 26: 250, 27: 1, 30: 1000, 31: 0, 32: 0,
	100: 250, 101: 250, 102: 250, 110: 500, 111: 500, 112: 500, 120: 10, 121: 10, 122: 10, 130: 200, 131: 200, 132: 200}

// decimal are the settings that are printed with three decimals.
var decimal = []int{11, 12, 24, 25, 27, 100, 101, 102, 110, 111, 112, 120, 121, 122, 130, 131, 132}

// Settings are the values by number.
type Settings map[int]float64

// New returns the printed defaults with some changed.
func New(changed map[int]float64) Settings {
	s := Settings(maps.Clone(defaults))
	maps.Copy(s, changed)
	return s
}

// Is says whether a switch is on.
func (s Settings) Is(n int) bool { return s[n] != 0 }

// Axis is a setting of each axis, beginning at the first axis' number.
func (s Settings) Axis(first int) (v blocks.Vector) {
	for i := range v {
		v[i] = s[first+i]
	}
	return v
}

// Limits of the planner: mm/s, mm/s², mm.
func (s Settings) Limits() blocks.Limits {
	l := blocks.Limits{Accel: s.Axis(Accel), Deviation: s[Deviation]}
	for i, r := range s.Axis(Rate) {
		l.Rate[i] = r / 60
	}
	return l
}

// Toward is +1 or −1: which way an axis runs to its switch.
func (s Settings) Toward(axis int) float64 {
	if int(s[HomingSide])&(1<<axis) != 0 {
		return -1
	}
	return 1
}

// Set changes a setting by its text, "110=500"; an error is a words.Fault.
func (s Settings) Set(text string) error {
	name, value, _ := strings.Cut(text, "=")
	n, err := strconv.Atoi(name)
	if err != nil {
		return words.UnknownSetting
	}
	v, err := strconv.ParseFloat(value, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return words.BadNumber
	}
	_, known := s[n]
	switch {
	case !known:
		return words.UnknownSetting
	case v < 0:
		return words.Negative
	case n == Pulse && v < 3:
		return words.ShortPulse
	case n == SoftLimits && v != 0 && !s.Is(Homing):
		return words.NoSoftLimits
	}
	s[n] = v
	if n == Homing && v == 0 {
		s[SoftLimits] = 0
	}
	return nil
}

// Lines are all settings as they are printed, by number.
func (s Settings) Lines() []string {
	var out []string
	for _, n := range slices.Sorted(maps.Keys(s)) {
		if slices.Contains(decimal, n) {
			out = append(out, fmt.Sprintf("$%d=%.3f", n, s[n]))
		} else {
			out = append(out, fmt.Sprintf("$%d=%.0f", n, s[n]))
		}
	}
	return out
}
