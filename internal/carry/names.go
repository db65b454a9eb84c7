// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"boardhand/internal/carry/limits"
	"boardhand/internal/carry/plan"
	"boardhand/internal/motion"
	"boardhand/internal/rig"
)

// Words of plan and motion under this package's name, for those who still use
// them so: new code names plan and motion themselves.
type (
	Plan  = plan.Plan
	Step  = plan.Step
	Scene = plan.Scene
	Lag   = motion.Lag
	Stall = motion.Stall
)

// The kinds of step, as in package plan.
const (
	Travel  = plan.Travel
	Grip    = plan.Grip
	Carry   = plan.Carry
	Release = plan.Release
)

// LimitsOf computes the numbers of one rig from its magnets, friction and
// drives.
func LimitsOf(r *rig.Rig) (plan.Limits, error) { return limits.Of(r) }
