// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"boardhand/internal/carry/drawing"
	"boardhand/internal/carry/plan"
	"boardhand/internal/game"
)

// The words of package plan, for tests that call their plans plan.
type (
	Plan      = plan.Plan
	Step      = plan.Step
	Scene     = plan.Scene
	Act       = game.Act
	Piece     = plan.Piece
	Limits    = plan.Limits
	Clearance = drawing.Clearance
)

// The kinds of step.
const (
	Travel  = plan.Travel
	Grip    = plan.Grip
	Carry   = plan.Carry
	Release = plan.Release
	Ask     = plan.Ask
)

var JSON = plan.JSON
