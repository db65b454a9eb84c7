// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"math"
	"strconv"
	"strings"
)

// proof has the controller itself find a coordinate that was damaged on the wire, before
// anything moves there. After a line of motion comes a full circle, smaller than half a
// step, that begins and ends where the motion ends: it moves nothing, and is refused
// (error 33) unless the last line, as it was understood, ends there as well. Lines are
// understood a good while before they are run; so motion stops in time.
//
// Source: the firmware checks that both ends of an arc lie on its circle, and drops
// motions of no step (its published sources, from memory).
type proof struct {
	radius float64    // mm; 0: the axes' steps are too fine, or the offsets unknown
	offset [2]float64 // mm: work coordinates are machine coordinates less this
}

// newProof chooses the circle for a controller's settings: more than half of what chords
// may leave an arc by, which the firmware's arithmetic needs. The offsets come from $#.
func newProof(s settings, told []string) proof {
	var p proof
	steps := math.Max(s[setSteps], s[setSteps+1])
	r := proofShare * s[setArcs]
	if r <= 0 || 2*r*steps > proofSteps {
		return p
	}
	for _, name := range []string{"G54:", "G92:"} {
		is := false
		for _, line := range told {
			text, ok := strings.CutPrefix(line, name)
			at := strings.Split(text, ",")
			if !ok || len(at) < 2 {
				continue
			}
			x, okX := parseNumber(at[0])
			y, okY := parseNumber(at[1])
			if is = okX && okY; is {
				p.offset[0] += x
				p.offset[1] += y
			}
		}
		if !is {
			return proof{}
		}
	}
	p.radius = r
	return p
}

// of is the line that proves that the last one ended at a place, as written there. So
// many digits stand behind the point that the circle without it would leave every travel.
func (p proof) of(x, y string) string {
	return "G2X" + p.work(x, 0) + "Y" + p.work(y, 1) + "I" + strings.TrimPrefix(strconv.FormatFloat(p.radius, 'f', proofDigits, 64), "0")
}

// work is a machine coordinate, mm, as a work coordinate.
func (p proof) work(text string, axis int) string {
	if p.offset[axis] == 0 {
		return text
	}
	v, _ := strconv.ParseFloat(text, 64) // it was written here
	return millimetres((v - p.offset[axis]) / 1e3)
}
