// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"
	"math"

	"boardhand/internal/axes"
	"boardhand/internal/rig"
)

// judgeCables compares needs with the leads owned.
func judgeCables(r *rig.Rig) Check {
	c := Check{ID: "cables.length", Title: "Leads long enough", Unit: "mm",
		Formula: "route + slack + for each axis followed: travel/2 + π·bend radius", Source: ownGeometry, Range: "leads anchored at mid-travel, bend radius 20 mm"}
	needs := axes.CableNeeds(r)
	worst, list := math.Inf(1), ""
	for _, n := range needs {
		if n.Best == 0 {
			list += fmt.Sprintf("; order %.0f mm for %s", mm(n.Need), n.Name)
			continue
		}
		if spare := mm(n.Best - n.Need); spare < worst {
			worst = spare
			c = c.AtLeast(mm(n.Best), mm(n.Need), mm(n.Need))
			c.Why = fmt.Sprintf("tightest is %q: it needs %.0f mm, the longest owned is %.0f mm", n.Name, mm(n.Need), mm(n.Best))
			c.Advice = fmt.Sprintf("buy or make up a lead of at least %.0f mm for %q, or shorten its route", mm(n.Need), n.Name)
		}
	}
	if math.IsInf(worst, 1) {
		c = c.Passed("no leads are owned yet")
		if len(needs) == 0 {
			c.Why = "the rig lists no leads"
		}
	}
	c.Why += list
	c.Explain = "A lead to a moving part must reach both ends of the travel without pulling, and must not fold sharper than its bend allows. Anchored at the middle of the travel it needs half of it plus half a turn. Stock leads of 0.5 m are too short for a moving carriage; about 1 m is typical."
	return c
}

// judgePorts counts sockets.
func judgePorts(r *rig.Rig) Check {
	c := Check{ID: "cables.ports", Title: "Sockets of the controller", Unit: "sockets",
		Formula: "two axes, the lift, the trapdoor of a chute", Source: ownGeometry, Range: "one motor an axis"}
	need := axes.PortsNeeded(r)
	if r.Controller.Ports == 0 {
		return c.Passed(fmt.Sprintf("%d motor sockets are needed; the rig does not say how many there are", need))
	}
	c = c.AtLeast(float64(r.Controller.Ports), float64(need), float64(need))
	c.Why = fmt.Sprintf("%d motor sockets are needed, the controller has %d", need, r.Controller.Ports)
	c.Explain = "Each motor needs a socket of its own. Sensors on the axes come on top where the motors do not sense their own turns."
	c.Advice = "use a controller with more sockets, or two in a chain"
	return c
}
