// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"boardhand/internal/carry/drawing"
)

// SVG draws the plan; see drawing.Sheet.
func (p *Planner) SVG(s Scene, plan Plan) []byte { return p.sheet(s, plan).SVG() }

// Clearances measures the narrowest places of each step's way; see drawing.Sheet.
func (p *Planner) Clearances(s Scene, plan Plan) [][]drawing.Clearance {
	return p.sheet(s, plan).Clearances()
}

// sheet is the plan with the scenes before its steps.
func (p *Planner) sheet(s Scene, plan Plan) drawing.Sheet {
	out := drawing.Sheet{Rig: p.rig, Plan: plan, Scenes: []Scene{s}, Keep: p.limits.keep}
	for _, step := range plan.Steps {
		if step.Do != Grip && step.Do != Release {
			s = p.afterStep(s, step)
		}
		out.Scenes = append(out.Scenes, s)
	}
	return out
}

// afterStep is the scene after one step other than grip and release.
func (p *Planner) afterStep(s Scene, step Step) Scene {
	if step.Do != Carry {
		return p.After(s, Plan{Steps: []Step{step}})
	}
	return p.After(s, Plan{Steps: []Step{{Do: Grip, Piece: step.Piece}, step}})
}
