// SPDX-License-Identifier: Apache-2.0

package journal

import (
	"errors"

	"boardhand/internal/motion"
)

// Part of the machine that a failure comes from.
type Part string

// The parts.
const (
	PartGantry  Part = "gantry"
	PartPlayer  Part = "player"
	PartPlanner Part = "planner"
	PartWay     Part = "way"  // of the carriage: something stays over it
	PartPlug    Part = "plug" // of the motor controller, or its supply
)

// partError says which part failed.
type partError struct {
	part Part
	error
}

func (e *partError) Unwrap() error { return e.error }

// InPart says of an error which part failed.
func InPart(p Part, err error) error { return &partError{p, err} }

// PartOf is the part that an error comes from; the gantry when none is named.
func PartOf(err error) Part {
	var p *partError
	if gone := (*motion.Gone)(nil); errors.As(err, &gone) {
		return PartPlug
	}
	if errors.As(err, &p) {
		return p.part
	}
	return PartGantry
}
