// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"boardhand/internal/carry/drawing"
	"boardhand/internal/carry/limits"
	"boardhand/internal/carry/plan"
	"boardhand/internal/game"
	"boardhand/internal/motion"
	"boardhand/internal/rig"
)

// What plans consist of stands in package plan, what goes to the controller in
// package motion; these are the same types, for those who plan and run plans.
type (
	Do        = plan.Do
	Step      = plan.Step
	Act       = game.Act
	Plan      = plan.Plan
	Piece     = plan.Piece
	Scene     = plan.Scene
	Limits    = plan.Limits
	Clearance = drawing.Clearance
	Stroke    = motion.Stroke
	Lag       = motion.Lag
	Stall     = motion.Stall
)

// The kinds of step, as in package plan.
const (
	Travel  = plan.Travel
	Grip    = plan.Grip
	Carry   = plan.Carry
	Release = plan.Release
	Ask     = plan.Ask
)

// LimitsOf computes the numbers of one rig from its magnets, friction and
// drives.
func LimitsOf(r *rig.Rig) (Limits, error) { return limits.Of(r) }

// JSON is the plan as one JSON object.
func JSON(p Plan) ([]byte, error) { return plan.JSON(p) }
