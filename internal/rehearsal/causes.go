// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"math"
	"slices"
	"strings"

	"boardhand/internal/diagnosis"
	"boardhand/internal/linear"
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

// hasShown says whether a fault has shown itself so often that an observer who sees as
// well as the pictures do, and misses nothing, can tell it from every other. goals are
// where the machine has carried pieces to.
func hasShown(f twin.AtFault, goals []goal) bool {
	switch f.Fault {
	case twin.AxesSkewed:
		return math.Abs(f.Skew) > tellable*errorOf(goals, leans)
	case twin.AxesScaled:
		return math.Abs(f.Scale[0]) > tellable*errorOf(goals, scaleX) || math.Abs(f.Scale[1]) > tellable*errorOf(goals, scaleY)
	case twin.LiftStaysDown:
		return f.Shown >= shownEnough && f.Pieces >= shownOfAll
	case twin.MagnetFlipped, twin.MagnetMissing:
		return f.Shown >= shownByOne
	}
	return f.Shown >= shownEnough
}

// goal is where the machine has carried a piece to, m from the field's middle.
type goal struct {
	at     diagnosis.Spot
	beside bool // the field
}

// What a frame may have wrong: it is shifted and turned, an axis goes too far, the y axis
// leans towards x.
const (
	shiftX = iota
	shiftY
	scaleX
	scaleY
	turn
	leans
	coefficients
)

// errorOf is the standard error with which the best observer knows one coefficient of a
// frame, of which nothing was known beforehand, while the others are as well known as
// usual tells, from where pieces have come: by the Gauss–Markov theorem no unbiased linear
// observer knows it better. Infinite where the places leave it open.
func errorOf(goals []goal, which int) float64 {
	n := linear.NewSymmetric(coefficients)
	for j, sigma := range usual {
		if j != which {
			n.Row(j)[j] = 1 / (sigma * sigma)
		}
	}
	for _, g := range goals {
		x, y := scatter, scatter
		if g.beside {
			x, y = besideAcross, besideAlong
		}
		for _, row := range [2][coefficients]float64{
			{shiftX: 1 / x, scaleX: g.at.X / x, turn: -g.at.Y / x, leans: g.at.Y / x},
			{shiftY: 1 / y, scaleY: g.at.Y / y, turn: g.at.X / y},
		} {
			for j := range row {
				for k := range j + 1 {
					n.Row(j)[k] += row[j] * row[k]
				}
			}
		}
	}
	root, err := n.Factor()
	if err != nil {
		return math.Inf(1)
	}
	unit := make([]float64, coefficients)
	unit[which] = 1
	root.Solve(unit)
	return math.Sqrt(unit[which])
}

// count compares the parts that were suspected with those truly at fault.
func (t *Tally) count(faults []twin.AtFault, goals []goal, named []journal.Record) {
	t.Causes = map[string]int{}
	for _, f := range faults {
		if len(causesOf[f.Fault]) == 0 { // people and light are no parts
			continue
		}
		if !hasShown(f, goals) {
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
