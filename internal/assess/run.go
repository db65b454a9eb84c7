// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"slices"
	"sort"

	"boardhand/internal/assess/line"
	"boardhand/internal/assess/remedy"
	"boardhand/internal/rig"
)

// probe is one check with the knobs that may mend it, best first; a leading +
// or − says which way to turn.
type probe struct {
	judge func(*study) Check
	knobs []string
}

// onRig is a check that takes nothing but the rig.
func onRig(judge func(*rig.Rig) Check) func(*study) Check {
	return func(s *study) Check { return judge(s.Rig) }
}

// The checks in the order of the machine: magnets, pieces, lift, drives, reach,
// leads, eye, house, cautions.
var probes = []probe{
	{func(s *study) Check { return s.hold }, []string{"+lift.magnet", "+pieces.magnet", "-board.thickness", "-board.friction", "-lift.air", "-pieces.magnet.recess", "-masses"}},
	{(*study).judgeSlip, []string{"-axes.acceleration", "+lift.magnet"}},
	{(*study).judgeSurge, []string{"-axes.acceleration", "-axes.speed", "+lift.magnet"}},
	{(*study).judgeSettle, []string{"+board.kinetic", "-board.friction", "+board.square"}},
	{(*study).judgeRaised, []string{"-pieces.magnet", "+board.square", "-lift.magnet", "+masses", "+board.thickness"}},
	{(*study).judgeLowered, []string{"+lift.drop", "-pieces.magnet", "-lift.magnet"}},
	{(*study).judgeFeet, []string{"-pieces.magnet", "+board.square", "+masses"}},
	{(*study).judgeRelief, []string{"-pieces.magnet", "+board.square", "-lift.magnet"}},
	{(*study).judgeLane, []string{"+board.square", "-bases"}},
	{(*study).judgeTip, []string{"+bases", "-pieces.magnet", "-axes.acceleration"}},
	{onRig(judgeRoom), []string{"-lift.drop", "+walls.height"}},
	{(*study).judgeForce, []string{"-lift.preload", "+lift.force", "-pieces.magnet"}},
	{(*study).judgeSteel, []string{"+lift.preload", "+lift.steel"}},
	{onRig(judgeHeld), []string{"+board.rim"}},
	{onRig(judgePressed), []string{"-lift.preload", "-lift.spring", "+board.mass"}},
	{(*study).judgeScrews, []string{"+board.steel", "-pieces.magnet"}},
	{(*study).judgeContact, []string{"+lift.preload", "-lift.spring", "+lift.spring", "-board.warp"}},
	{func(s *study) Check { return s.judgeStall("x") }, []string{"-axis.x.speed", "+axis.x.motor.gearing", "+axis.x.motor.stall_torque", "-axis.x.acceleration"}},
	{func(s *study) Check { return s.judgeStall("y") }, []string{"-axis.y.speed", "+axis.y.motor.gearing", "+axis.y.motor.stall_torque", "-axis.y.acceleration"}},
	{onRig(judgeResolution), []string{"+axes.gearing", "+axes.counts"}},
	{onRig(judgeBacklash), []string{"-axes.backlash"}},
	{onRig(judgeSkew), []string{"+axis.y.guide", "-axis.y.clearance"}},
	{onRig(judgeTime), []string{"+axes.speed", "+axes.acceleration", "+lift.speed"}},
	{func(s *study) Check { return s.judgeReach(false) }, []string{"+reach", "-board.square"}},
	{func(s *study) Check { return s.judgeReach(true) }, []string{"-removal.gap", "+reach", "-board.square"}},
	{(*study).judgeSlots, []string{"-removal.slots"}},
	{judgeSheet, []string{"+board.rim", "-removal.gap"}},
	{onRig(judgeCarried), []string{"+pieces.carried", "+play.side"}},
	{onRig(judgeCables), nil},
	{onRig(judgePorts), []string{"+controller.ports"}},
	{onRig(judgeCoverage), []string{"+camera.height", "+camera.hfov", "-board.square"}},
	{onRig(judgeScale), []string{"-camera.height", "+camera.image", "-camera.hfov", "+board.square"}},
	{onRig(judgeFocus), []string{"+camera.height", "+camera.focus"}},
	{onRig(judgeLean), []string{"+camera.height", "+board.square"}},
	{onRig(judgeHidden), []string{"+camera.height", "+board.square"}},
	{onRig(judgeWalls), []string{"+walls.owned"}},
	{onRig(judgePower), []string{"+power.current"}},
	{onRig(judgeVoltage), nil},
	{onRig(judgeMotors), []string{"-power.motors"}},
	{(*study).judgeFlux, nil},
	{(*study).judgeImplant, []string{"-lift.magnet"}},
}

// Judge runs all checks without looking for changes: what a search needs. In
// the machine's own order.
func Judge(r *rig.Rig) []Check { return newStudy(r, nil).judge() }

func (s *study) judge() []Check {
	out := make([]Check, len(probes))
	for i, p := range probes {
		out[i] = p.judge(s).Sealed()
	}
	return out
}

// Pricing is what a changed rig costs more to make than another; false where no price is
// known.
type Pricing = func(was, now *rig.Rig) (float64, bool)

// Run judges a rig, and whether this version plays on it, worst line first.
// Each line that does not pass says what to change, tried on the rig itself; the cheapest
// first where a price is known.
func Run(r *rig.Rig, price Pricing) []Check {
	s := newStudy(r, nil)
	out := s.judge()
	bench := s.bench(out, price)
	for i := range out {
		if out[i].Verdict == Pass {
			out[i].Advice = ""
			continue
		}
		if !line.Waits(out[i]) {
			out[i].Fixes = bench.Mend(i)
		}
		out[i].Change = out[i].Told()
	}
	out = accept(r, append(append(out, placed(r)...), driven(r)...))
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i], out[j]
		if a.Cautions() != b.Cautions() { // after all that says whether it works
			return b.Cautions()
		}
		if x, y := a.Counts().Rank(), b.Counts().Rank(); x != y {
			return x < y
		}
		if a.Verdict != b.Verdict { // accepted, before what passes
			return a.Verdict.Rank() < b.Verdict.Rank()
		}
		return a.Share < b.Share
	})
	return out
}

// bench is the rig, judged, with what may be turned of it.
func (s *study) bench(was []Check, price Pricing) remedy.Bench {
	last := &Study{s} // lends its force table to the next try
	return remedy.Bench{Rig: s.Rig, Was: slices.Clone(was), Price: price, Knobs: func(i int) []string { return probes[i].knobs },
		Begin: func(r *rig.Rig) remedy.Study {
			last = &Study{newStudy(r, last.s)}
			return last
		}}
}
