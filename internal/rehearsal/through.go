// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"boardhand/internal/twin"
)

// ParseThrough reads which driver is played through and the share of the commands that
// the wire spoils, 0 to 1; an error says why it cannot be.
func ParseThrough(kind, faulty string, faults []twin.Fault, hasCuts bool) (float64, error) {
	text, isShare := strings.CutSuffix(faulty, "%")
	share, err := strconv.ParseFloat(text, 64)
	switch {
	case err != nil || !isShare || !(share >= 0 && share <= 20):
		return 0, fmt.Errorf("--wire-faults must be a share of the commands from 0%% to 20%%, like 1%%; got %q", faulty)
	case kind == "" && share > 0:
		return 0, errors.New("--wire-faults needs a wire: add --through gcode or --through tacho")
	case kind == "":
		return 0, nil
	case kind != "gcode" && kind != "tacho":
		return 0, fmt.Errorf("--through must be gcode or tacho; got %q", kind)
	case hasCuts || slices.Contains(faults, twin.Fast):
		return 0, fmt.Errorf("--through has a controller of its own, which knows no power_cut and no %s: leave them out", twin.Fast)
	}
	return share / 100, nil
}

// String is what people read of a simulated controller; "": there was none.
func (t Through) String() string {
	if t.Commands == 0 {
		return ""
	}
	var out strings.Builder
	fmt.Fprintf(&out, "  commands  %6d   resets     %4d   re-homings %4d   (in %.0f s of the controller's time)\n", t.Commands, t.Resets, t.Rehomed, t.Seconds)
	fmt.Fprintf(&out, "  position unknown for %.0f s, motions made meanwhile %d\n", t.Unknown, t.Guessed)
	fmt.Fprintf(&out, "  planner ran dry %d times, and %d times because the wire was late; steps lost %.1f mm, a person had to help %d times\n", t.Starved, t.Delayed, t.Missed, t.Resumed)
	for _, k := range slices.Sorted(maps.Keys(t.Ills)) {
		fmt.Fprintf(&out, "  on the wire: %-10s %d\n", k, t.Ills[k])
	}
	return out.String()
}
