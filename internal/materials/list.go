// SPDX-License-Identifier: Apache-2.0

// Package materials counts what a machine is built of: walls, drives, magnets, feet,
// fasteners and leads, with the reason of each count, what is owned taken off, and
// prices and masses where a stock names them. It draws nothing.
package materials

import (
	"boardhand/internal/unit"
)

// The lists, in the order in which they are worked off.
const (
	InWalls     = "walls"
	InDrives    = "drives"
	InMagnets   = "magnets"
	InFeet      = "feet"
	InWiring    = "wiring"
	InFasteners = "fasteners"
)

// Names are the names of all lists, in order.
func Names() []string {
	return []string{InWalls, InDrives, InMagnets, InFeet, InWiring, InFasteners}
}

// Line is one thing to have.
type Line struct {
	List  string
	Name  string
	Unit  string // what is counted: "pieces", "ml"
	Need  int    // without spare ones
	Spare int
	Owned int       // of Need and Spare
	Price *float64  // of one; nil: nobody said
	Mass  unit.Mass // of one; 0: nobody said
	Why   string    // the reason of the count
}

// Buy is how many are to be bought.
func (l Line) Buy() int { return max(0, l.Need+l.Spare-l.Owned) }

// Cost is what is to be bought costs; false when there is no price.
func (l Line) Cost() (float64, bool) {
	if l.Price == nil {
		return 0, l.Buy() == 0
	}
	return float64(l.Buy()) * *l.Price, true
}

// List is everything that one machine takes.
type List struct {
	Currency string // of the prices; "" when nobody named one
	Lines    []Line // in the order of Names
	Walls    Walls
	Drives   [2]Drive // x and y
	Magnets  Magnets
	Feet     Feet
	Wiring   Wiring
	Fixing   Fixing
	Boom     Boom     // of the camera; nothing where its height or the back wall is not given
	Notes    []string // what was taken for want of a word in the files, and what did not fit
}

// In are the lines of one list.
func (l List) In(list string) []Line {
	var out []Line
	for _, x := range l.Lines {
		if x.List == list {
			out = append(out, x)
		}
	}
	return out
}

// Sum is what is to be bought costs, how many lines with something to buy have no
// price, and what everything weighs that has a mass.
func (l List) Sum() (cost float64, unpriced int, mass unit.Mass) {
	for _, x := range l.Lines {
		c, ok := x.Cost()
		if !ok {
			unpriced++
		}
		cost += c
		mass += unit.Mass(x.Need) * x.Mass
	}
	return cost, unpriced, mass
}
