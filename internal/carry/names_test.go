// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"boardhand/internal/carry/drawing"
	"boardhand/internal/carry/plan"
	"boardhand/internal/game"
)

// The words of package plan, for tests that call their plans plan.
type (
	Act       = game.Act
	Piece     = plan.Piece
	Limits    = plan.Limits
	Clearance = drawing.Clearance
)

const Ask = plan.Ask

var JSON = plan.JSON
