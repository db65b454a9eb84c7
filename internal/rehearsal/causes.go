// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"slices"
	"strings"

	"boardhand/internal/diagnosis"
	"boardhand/internal/table/journal"
	"boardhand/internal/twin"
)

// causesOf are the causes that name a fault of the twin rightly.
var causesOf = map[twin.Fault][]diagnosis.Cause{
	twin.WeakMagnet:      {diagnosis.DriveMagnetWeak, diagnosis.NothingFollows}, // whose sentence says how to tell
	twin.Fast:            {diagnosis.AxisOverdriven},
	twin.WideFoot:        {diagnosis.BaseTooWide},
	twin.Slip:            {diagnosis.StickyPlace, diagnosis.StickyBoard},
	twin.MagnetFlipped:   {diagnosis.MagnetFlipped},
	twin.MagnetMissing:   {diagnosis.MagnetMissing},
	twin.MagnetOffCentre: {diagnosis.MagnetOffCentre},
	twin.LiftStaysUp:     {diagnosis.LiftStaysUp},
	twin.LiftStaysDown:   {diagnosis.LiftStaysDown, diagnosis.NothingFollows},
	twin.AxesSkewed:      {diagnosis.AxesOutOfSquare},
	twin.AxesScaled:      {diagnosis.AxesScaleWrong},
	twin.CameraDrop:      {diagnosis.CameraDropping},
	twin.PictureLost:     {diagnosis.CameraDropping},
	twin.PictureFrozen:   {diagnosis.CameraFrozen},
}

// isNaming says whether a suspicion names a fault rightly: the part, and for
// the magnet of one piece which piece.
func isNaming(f twin.AtFault, r journal.Record) bool {
	if !slices.Contains(causesOf[f.Fault], diagnosis.Cause(r.Cause)) {
		return false
	}
	switch f.Fault {
	case twin.MagnetFlipped, twin.MagnetMissing, twin.MagnetOffCentre:
		return r.Origin == f.Origin.String()
	case twin.AxesScaled:
		return r.Axis == "" || strings.Contains(f.Axes, r.Axis)
	}
	return true
}

// count compares the parts that were suspected with those truly at fault.
func (t *Tally) count(faults []twin.AtFault, named []journal.Record) {
	t.Causes = map[string]int{}
	for _, f := range faults {
		if len(causesOf[f.Fault]) == 0 { // people and light are no parts
			continue
		}
		if f.Shown < shownEnough {
			t.Unshown++
			continue
		}
		t.AtFault++
		if slices.ContainsFunc(named, func(r journal.Record) bool { return isNaming(f, r) }) {
			t.Named++
		}
	}
	for _, r := range named {
		t.Causes[r.Cause]++
		if diagnosis.Cause(r.Cause) == diagnosis.ControllerWire && len(t.Through.Ills) > 0 {
			continue
		}
		if !slices.ContainsFunc(faults, func(f twin.AtFault) bool { return isNaming(f, r) }) {
			t.Misnamed++
		}
	}
}
