// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"boardhand/internal/carry/drawing"
	"boardhand/internal/carry/plan"
)

// SVG draws the plan; see drawing.Sheet.
func (p *Planner) SVG(s plan.Scene, made plan.Plan) []byte { return p.sheet(s, made).SVG() }

// Clearances measures the narrowest places of each step's way; see drawing.Sheet.
func (p *Planner) Clearances(s plan.Scene, made plan.Plan) [][]drawing.Clearance {
	return p.sheet(s, made).Clearances()
}

// sheet is the plan with the scenes before its steps.
func (p *Planner) sheet(s plan.Scene, made plan.Plan) drawing.Sheet {
	out := drawing.Sheet{Rig: p.rig, Plan: made, Scenes: []plan.Scene{s}, Keep: p.limits.keep}
	for _, step := range made.Steps {
		if step.Do != plan.Grip && step.Do != plan.Release {
			s = p.afterStep(s, step)
		}
		out.Scenes = append(out.Scenes, s)
	}
	return out
}

// afterStep is the scene after one step other than grip and release.
func (p *Planner) afterStep(s plan.Scene, step plan.Step) plan.Scene {
	if step.Do != plan.Carry {
		return p.After(s, plan.Plan{Steps: []plan.Step{step}})
	}
	return p.After(s, plan.Plan{Steps: []plan.Step{{Do: plan.Grip, Piece: step.Piece}, step}})
}
