// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"boardhand/internal/unit"
)

// String is what was counted, row by row.
func (t Tally) String() string {
	var o strings.Builder
	fmt.Fprintf(&o, "%s, %s, %s in %.0f s\n", unit.Count(t.Games, "game"), unit.Count(t.Plies, "ply"), unit.Count(t.Pictures, "picture"), t.Seconds)
	fmt.Fprintf(&o, "  misread     %4d   lost state %4d   stuck     %4d\n", t.Misread, t.LostState, t.Stuck)
	fmt.Fprintf(&o, "  collisions  %4d   drags      %4d   toppled   %4d\n", t.Collisions, t.Drags, t.Toppled)
	fmt.Fprintf(&o, "  slips       %4d   stalls     %4d   recovered %4d\n", t.Slips, t.Stalls, t.Recovered)
	fmt.Fprintf(&o, "  asked       %4d   removals   %4d   said      %4d\n", t.Asked, t.Removals, t.Said)
	if t.Watched > 0 {
		fmt.Fprintf(&o, "  held        %4d   of them false %d, put off %d; hands %d, of them missed %d, touched %d   (%s of carries)\n",
			t.Held, t.FalseHolds, t.PutOff, t.Hands, t.Missed, t.Touches, unit.Count(t.Watched, "picture"))
	}
	if t.AtFault+t.Unshown+t.Misnamed > 0 {
		fmt.Fprintf(&o, "  at fault    %4d   named      %4d   misnamed  %4d   (parts that showed it often enough to be told, against the twin's truth)\n", t.AtFault, t.Named, t.Misnamed)
		fmt.Fprintf(&o, "  not shown   %4d\n", t.Unshown)
	}
	for _, k := range slices.Sorted(maps.Keys(t.Causes)) {
		fmt.Fprintf(&o, "  %-24s %d\n", k, t.Causes[k])
	}
	if t.TakenBack+t.SetUps > 0 {
		fmt.Fprintf(&o, "  taken back  %4d   set-ups    %4d\n", t.TakenBack, t.SetUps)
	}
	if t.PowerCuts > 0 {
		fmt.Fprintf(&o, "  power cuts  %4d\n", t.PowerCuts)
	}
	o.WriteString(t.Through.String())
	for _, k := range []string{"1-0", "0-1", "1/2-1/2", "*"} {
		if t.Results[k] > 0 {
			fmt.Fprintf(&o, "  %-8s %d\n", resultWords[k], t.Results[k])
		}
	}
	return o.String()
}

// resultWords say the results in the last rows.
var resultWords = map[string]string{"1-0": "1-0", "0-1": "0-1", "1/2-1/2": "drawn", "*": "not ended"}
