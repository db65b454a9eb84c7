// SPDX-License-Identifier: Apache-2.0

package table

import (
	"boardhand/internal/rig"
	"boardhand/internal/table/carriage"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/lookout"
	"boardhand/internal/table/model"
	"boardhand/internal/table/suspects"
	"boardhand/internal/table/view"
)

// What whoever sets a table hands in and sees, by the names of its parts.
type (
	Camera   = view.Camera
	Gantry   = carriage.Gantry
	Lookout  = lookout.Parts
	Guest    = desk.Guest
	Log      = desk.Log
	Event    = desk.Event
	Machine  = model.Machine
	Suspects = suspects.Suspects
)

// Raised says of Event.Lift that the magnet is at the board.
const Raised = model.Raised

// NewSuspects opens a case for the machine of a rig file.
func NewSuspects(r *rig.Rig) (*Suspects, error) { return suspects.New(r) }
