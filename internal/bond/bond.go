// SPDX-License-Identifier: Apache-2.0

// Package bond lays walls of modular elements: a ring of four walls on the 8 mm
// grid, course upon course, so that no joint lies over a joint.
package bond

import (
	"fmt"
	"math"

	"boardhand/internal/unit"
)

// The trade's common module. R. Cailliau's measured pages, a builders' FAQ of 1999
// (hobby sources; no maker's drawing): pitch 8.0 mm, an element 9.6 mm high, a
// plate a third of that.
const (
	Pitch       = unit.Length(8e-3)
	FullHeight  = unit.Length(9.6e-3)
	PlateHeight = unit.Length(3.2e-3)
)

// Length is an element that can be had: how many units long, and what one costs in
// any unit of cost. Cost decides which ones are laid.
type Length struct{ Units, Cost int }

// Wall is the ring to be laid: inside lengths along x and y and the thickness in
// units, and how many courses of full elements and of plates on top.
type Wall struct {
	Inside       [2]int
	Thick        int
	Full, Plates int
}

// Ring is the wall as laid. Odd and even courses differ, and repeat.
type Ring struct {
	Wall
	Courses [2]Course // the lowest and the one upon it
	Overlap int       // least distance of a joint from those above and below, units
}

// Course is one layer: the front and back walls are alike, and so are left and right.
type Course struct{ X, Y Run }

// Run is a row of elements of one wall: where it begins, in units from the inside
// corner, and their lengths.
type Run struct {
	From     int
	Elements []int
}

// Joints are the places where two elements of the run meet, from the inside corner.
func (r Run) Joints() []int {
	var out []int
	at := r.From
	for _, n := range r.Elements[:max(len(r.Elements)-1, 0)] {
		at += n
		out = append(out, at)
	}
	return out
}

// Units is how many units of length need to be laid for a length; a length on the
// grid to a micrometre counts as on it.
func Units(l unit.Length) int { return int(math.Ceil(float64(l/Pitch) - 1e-3)) }

// Heights are the courses of full elements and of plates on top that reach a
// height, in as few courses as can be.
func Heights(h unit.Length) (full, plates int) {
	n := int(math.Ceil(float64(h/PlateHeight) - 1e-3))
	return n / 3, n % 3
}

// Lay lays the ring. In even courses the walls along x run through the corners, in
// odd ones those along y. An error says that these lengths give no bond.
func Lay(w Wall, lengths []Length) (Ring, error) {
	if min(w.Inside[0], w.Inside[1], w.Thick, w.Full+w.Plates) < 1 {
		return Ring{}, fmt.Errorf("a ring of walls needs at least 1 unit inside, 1 thick and 1 course; got %d × %d, %d, %d", w.Inside[0], w.Inside[1], w.Thick, w.Full+w.Plates)
	}
	r := Ring{Wall: w, Overlap: math.MaxInt}
	for axis, n := range w.Inside {
		p, ok := bestPair(n, w.Thick, lengths)
		if !ok {
			return Ring{}, fmt.Errorf("no bond: a wall of %d units inside cannot be laid of lengths of %v units without a joint over a joint; add elements of 1, 2 or 3 units", n, unitsOf(lengths))
		}
		r.Overlap = min(r.Overlap, p.overlap)
		if axis == 0 {
			r.Courses[0].X, r.Courses[1].X = p.through, p.between
		} else {
			r.Courses[1].Y, r.Courses[0].Y = p.through, p.between
		}
	}
	return r, nil
}

func unitsOf(lengths []Length) (out []int) {
	for _, l := range lengths {
		out = append(out, l.Units)
	}
	return out
}

// InsideLength is how long the ring is inside, along x (0) or y (1).
func (r Ring) InsideLength(axis int) unit.Length { return unit.Length(r.Inside[axis]) * Pitch }

// Counts are the elements of each length in the whole ring: full ones and plates.
func (r Ring) Counts() (full, plates map[int]int) {
	full, plates = map[int]int{}, map[int]int{}
	for k := range r.Full + r.Plates {
		into := full
		if k >= r.Full {
			into = plates
		}
		for _, run := range []Run{r.Courses[k%2].X, r.Courses[k%2].Y} {
			for _, n := range run.Elements {
				into[n] += 2 // each wall and the one across
			}
		}
	}
	return full, plates
}
