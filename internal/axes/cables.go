// SPDX-License-Identifier: Apache-2.0

package axes

import (
	"math"
	"slices"

	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// CableNeed is how long one lead must be.
type CableNeed struct {
	Name  string
	Moves []string    // the axes it follows
	Need  unit.Length // route, loops and slack together
	Owned unit.Length // the shortest owned lead that does; 0: none
	Best  unit.Length // the longest owned; 0: none owned
}

// CableNeeds are the lengths of all leads of a rig. A lead that follows an axis
// is anchored at the middle of its travel: half the travel, and half a turn of
// the bend.
func CableNeeds(r *rig.Rig) []CableNeed {
	var out []CableNeed
	for _, c := range r.Cables {
		out = append(out, CableNeedOf(r, c))
	}
	return out
}

// CableNeedOf is the length of one lead of a rig, in its file or not.
func CableNeedOf(r *rig.Rig, c rig.Cable) CableNeed {
	n := CableNeed{Name: c.Name, Moves: follows(r, c.To), Need: c.Route + c.Slack}
	for _, a := range n.Moves {
		n.Need += Named(r, a).Travel/2 + unit.Length(math.Pi*bend)
	}
	owned := slices.Clone(c.Owned)
	slices.Sort(owned)
	for _, l := range owned {
		if l >= n.Need && n.Owned == 0 {
			n.Owned = l
		}
		n.Best = l
	}
	return n
}

// follows lists the axes whose motion a lead to that place takes part in. A
// rack's pinion and motor ride along; a belt's or screw's motor stands still. The x
// axis rides on y, and so do its switches.
func follows(r *rig.Rig, to string) []string {
	switch to {
	case "lift", "magnet", "lift switch":
		return []string{"x", "y"}
	case "x switch":
		return []string{"y"}
	case "x":
		if r.Axis.X.Drive == "rack" {
			return []string{"x", "y"}
		}
		return []string{"y"}
	case "y":
		if r.Axis.Y.Drive == "rack" {
			return []string{"y"}
		}
	}
	return nil
}

// PortsNeeded counts the controller's sockets a rig takes: a motor for each
// axis, the lift, and the trapdoor of a chute.
func PortsNeeded(r *rig.Rig) int {
	if r.Removal.Mode == "chute" {
		return 4
	}
	return 3
}
