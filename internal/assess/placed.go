// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"
	"math"
	"strings"

	"boardhand/internal/axes"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// placed are the checks of where guides, drives and motors lie. They steer no search for parts:
// the maker moves them.
func placed(r *rig.Rig) []Check {
	p := axes.PlacesOf(r)
	return []Check{judgeGuides(p), judgePlaces(p)}
}

// judgeGuides asks whether the guides are as long as the travel and what runs on them.
func judgeGuides(p *axes.Places) Check {
	c := Check{ID: "rails.length", Title: "Guides over the travel", Unit: "mm",
		Formula: "travel + body of the carriage along the axis against the guide's length; what the travel takes of rack, screw or distance of pulleys", Source: ownGeometry, Range: "sliders at both ends of the body",
		Explain: "At each end of the travel the sliders at the outer ends of the carriage still run on the guide, the pinion on its rack, the nut on its screw, and the belt's clamp stands clear of the pulleys. What a guide is longer goes into its holders."}
	worst, assumed := math.Inf(1), []string{}
	judge := func(a axes.Place, what, key string, length, least unit.Length) {
		spare := mm(length - least)
		if a.Lacks(key) || spare >= worst {
			return
		}
		worst = spare
		c = c.AtLeast(mm(length), mm(least), mm(least))
		c.Why = fmt.Sprintf("of the %s axis the %s %.1f mm; its travel takes %.1f mm", a.Axis, what, mm(length), mm(least))
		c.Advice = fmt.Sprintf("set axis.%s.rails.%s to %.0f mm or more, or its travel smaller", a.Axis, key, math.Ceil(mm(least)))
	}
	for _, a := range p.Axes {
		if a.Lacks("length") {
			assumed = append(assumed, fmt.Sprintf("%s axis, %.0f mm", a.Axis, mm(a.Ends[1]-a.Ends[0])))
		}
		judge(a, "guides have", "length", a.Ends[1]-a.Ends[0], a.LeastGuide)
		judge(a, "drive has", "drive_length", a.RowEnds[1]-a.RowEnds[0], a.LeastDrive)
	}
	if math.IsInf(worst, 1) {
		c = c.Passed("the rig does not say how long its guides are (axis.*.rails.length); the sheets take " + strings.Join(assumed, "; "))
	}
	return c.Advised()
}

// judgePlaces asks whether guides, drives and motors lie inside the walls and beside the
// carriage, over all its ways.
func judgePlaces(p *axes.Places) Check {
	c := Check{ID: "rails.room", Title: "Room of guides, drives and motors", Unit: "mm",
		Formula: "least distance of each part, moved over all ways of what it rides on, to walls, floor, board and the carriage's ways", Source: ownGeometry,
		Range:   "bodies as boxes, what is not given of them of common sizes",
		Explain: "Guides, racks, belts or screws and motors must lie between the walls, and where the carriage never gets. A part that rides on the bridge, as the motor of a rack does, takes the room of all its way. Shafts between motors and drives, and motors among each other, are not looked at."}
	var short []string
	for _, k := range p.Clearances() {
		if k.Assumed {
			if mm(k.Left) < -0.05 {
				short = append(short, fmt.Sprintf("%s lacks %.1f mm to the %s", k.Part, -mm(k.Left), k.To))
			}
			continue
		}
		if c.Verdict == "" || mm(k.Left) < c.Value {
			c = c.AtLeast(mm(k.Left), 0, 0)
			c.Why = fmt.Sprintf("tightest: %s, %.1f mm to the %s", k.Part, mm(k.Left), k.To)
			c.Advice = "move it (axis.*.rails, axis.*.motor.at, lift.motor.at), or the wall"
		}
	}
	outside := ""
	for _, m := range p.Motors {
		if !m.Assumed && p.Outside(m) {
			outside += fmt.Sprintf("; the %s motor stands outside the walls", m.Name)
		}
	}
	if c.Verdict == "" && outside == "" {
		c = c.Passed("the rig does not say where guides, drives and motors lie (axis.*.rails, axis.*.motor.at); the sheets assume places")
		if len(short) > 0 {
			c.Why += ", where " + strings.Join(short, ", ")
		}
		return c
	}
	if c.Verdict == "" {
		c = c.AtLeast(0, 0, 0)
		c.Why = "nothing that the rig places lies inside"
	}
	if c.Why += outside; outside != "" && c.Verdict == Pass {
		c.Verdict, c.Advice = Warn, "move it inside (axis.*.motor.at), or cover it"
	}
	return c.Advised()
}
