// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"errors"
	"fmt"
	"sort"
	"strings"

	"boardhand/internal/rig"
)

// probe is one check with the knobs that may mend it, best first; a leading +
// or − says which way to turn.
type probe struct {
	judge func(*study) Check
	knobs []string
}

// The checks in the order of the machine: magnets, pieces, lift, drives, reach,
// leads, eye, house, cautions.
var probes = []probe{
	{func(s *study) Check { return s.hold }, []string{"+lift.magnet", "+pieces.magnet", "-board.thickness", "-board.friction"}},
	{(*study).judgeSlip, []string{"-axes.acceleration", "+lift.magnet"}},
	{(*study).judgeSurge, []string{"-axes.acceleration", "-axes.speed", "+lift.magnet"}},
	{(*study).judgeSettle, []string{"+board.kinetic", "-board.friction", "+board.square"}},
	{(*study).judgeRaised, []string{"-pieces.magnet", "+board.square", "-lift.magnet", "+masses", "+board.thickness"}},
	{(*study).judgeLowered, []string{"+lift.drop", "-pieces.magnet", "-lift.magnet"}},
	{(*study).judgeFeet, []string{"-pieces.magnet", "+board.square", "+masses"}},
	{(*study).judgeRelief, []string{"-pieces.magnet", "+board.square", "-lift.magnet"}},
	{(*study).judgeLane, []string{"+board.square", "-bases"}},
	{(*study).judgeTip, []string{"+bases", "-pieces.magnet", "-axes.acceleration"}},
	{(*study).judgeRoom, []string{"-lift.drop", "+walls.height"}},
	{(*study).judgeForce, []string{"-lift.preload", "+lift.force", "-pieces.magnet"}},
	{(*study).judgeSteel, []string{"+lift.preload", "+lift.steel"}},
	{(*study).judgeHeld, []string{"+board.rim"}},
	{(*study).judgePressed, []string{"-lift.preload", "-lift.spring", "+board.mass"}},
	{(*study).judgeScrews, []string{"+board.steel", "-pieces.magnet"}},
	{(*study).judgeContact, []string{"+lift.preload", "-lift.spring", "+lift.spring", "-board.warp"}},
	{func(s *study) Check { return s.judgeStall("x") }, []string{"-axis.x.speed", "+axis.x.motor.gearing", "+axis.x.motor.stall_torque", "-axis.x.acceleration"}},
	{func(s *study) Check { return s.judgeStall("y") }, []string{"-axis.y.speed", "+axis.y.motor.gearing", "+axis.y.motor.stall_torque", "-axis.y.acceleration"}},
	{(*study).judgeResolution, []string{"+axes.gearing", "+axes.counts"}},
	{(*study).judgeBacklash, []string{"-axes.backlash"}},
	{(*study).judgeSkew, []string{"+axis.y.guide", "-axis.y.clearance"}},
	{(*study).judgeTime, []string{"+axes.speed", "+axes.acceleration"}},
	{func(s *study) Check { return s.judgeReach(false) }, []string{"+reach", "-board.square"}},
	{func(s *study) Check { return s.judgeReach(true) }, []string{"-removal.gap", "+reach", "-board.square"}},
	{(*study).judgeSlots, []string{"-removal.slots"}},
	{(*study).judgeCarried, nil},
	{(*study).judgeCables, nil},
	{(*study).judgePorts, []string{"+controller.ports"}},
	{(*study).judgeCoverage, []string{"+camera.height", "+camera.hfov", "-board.square"}},
	{(*study).judgeScale, []string{"-camera.height", "+camera.image", "-camera.hfov", "+board.square"}},
	{(*study).judgeFocus, []string{"-camera.focus", "+camera.focus", "+camera.height"}},
	{(*study).judgeLean, []string{"+camera.height", "+board.square"}},
	{(*study).judgeHidden, []string{"+camera.height", "+board.square"}},
	{(*study).judgeWalls, []string{"+walls.owned"}},
	{(*study).judgePower, []string{"+power.current"}},
	{(*study).judgeVoltage, nil},
	{(*study).judgeMotors, []string{"-power.motors"}},
	{(*study).judgeFlux, nil},
	{(*study).judgeImplant, []string{"-lift.magnet"}},
}

// Judge runs all checks without looking for changes: what a search needs. In
// the machine's own order.
func Judge(r *rig.Rig) []Check { return newStudy(r, nil).judge() }

func (s *study) judge() []Check {
	out := make([]Check, len(probes))
	for i, p := range probes {
		out[i] = p.judge(s).sealed()
	}
	return out
}

// sealed turns a line with a number that is none into a failed one.
func (c Check) sealed() Check {
	if c.Verdict == "" || bad(c.Value) || bad(c.Limit) || bad(c.Margin) || bad(c.Share) || strings.Contains(c.Why+c.Explain, "NaN") || strings.Contains(c.Why+c.Explain, "Inf") {
		c.Value, c.Limit, c.Margin, c.Explain = 0, 0, 0, ""
		return c.failed(errors.New("a number that this line needs is missing from the rig or out of all range"))
	}
	return c
}

// Run judges a rig, and whether this version plays on it, worst line first.
// Each line that does not pass says what to change, tried on the rig itself.
func Run(r *rig.Rig) []Check {
	s := newStudy(r, nil)
	out := s.judge()
	for i := range out {
		if out[i].Verdict == Pass {
			out[i].Advice = ""
			continue
		}
		if !waits(out[i]) {
			out[i].Fixes = s.mend(i, out)
		}
		out[i].Change = out[i].advice()
	}
	out = append(append(out, placed(r)...), driven(r)...)
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i], out[j]
		if a.Cautions() != b.Cautions() { // after all that says whether it works
			return b.Cautions()
		}
		if a.Verdict != b.Verdict {
			return a.Verdict.rank() < b.Verdict.rank()
		}
		return a.Share < b.Share
	})
	return out
}

// waits says whether a check could not be judged because of another.
func waits(c Check) bool { return strings.HasPrefix(c.Why, "cannot be judged") }

// advice is the sentence of the change.
func (c Check) advice() string {
	var parts []string
	for _, f := range c.Fixes {
		parts = append(parts, f.String())
	}
	text := strings.Join(parts, "; or ")
	switch {
	case text == "":
		return c.Advice
	case c.Advice == "":
		return text
	}
	return text + "; or " + c.Advice
}

// String writes a fix as a maker would type it.
func (f Fix) String() string {
	text := "set " + strings.Join(f.short(), ", ") + " (" + f.Effect + ")"
	if len(f.Breaks) > 0 {
		text += fmt.Sprintf(", though then this fails: %s", strings.Join(f.Breaks, ", "))
	}
	return text
}

// short lists the settings; pieces with the same value share one.
func (f Fix) short() (out []string) {
	same := map[string]int{}
	for _, s := range f.Set {
		part := strings.Split(s.Key, ".")
		if len(part) != 3 || part[0] != "pieces" || part[1] == "magnet" {
			out = append(out, s.Key+" = "+s.Value)
			continue
		}
		key := part[2] + " = " + s.Value
		if at, ok := same[key]; ok {
			out[at] = strings.Replace(out[at], "'s ", " and "+part[1]+"'s ", 1)
			continue
		}
		same[key] = len(out)
		out = append(out, "the "+part[1]+"'s "+key)
	}
	return out
}
