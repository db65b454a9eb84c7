// SPDX-License-Identifier: Apache-2.0

// Package materials counts what a machine is built of: walls, drives, magnets, feet,
// fasteners and leads, with the reason of each count, what is owned taken off, and
// prices and masses where a stock names them. It draws nothing.
package materials

import (
	"fmt"
	"slices"

	"boardhand/internal/propose"
	"boardhand/internal/rig"
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
	Notes    []string // what was taken for want of a word in the files, and what did not fit
}

// Of counts what a rig takes. The stock says in which lengths parts come, what they
// cost and which are owned; without one, common sizes are taken, and said.
func Of(r *rig.Rig, stock *propose.Stock) List {
	b := &builder{r: r, stock: &propose.Stock{}, left: map[string]int{}}
	if stock != nil {
		b.stock = stock
	}
	b.list.Currency = b.stock.Currency
	b.walls()
	b.drives()
	b.magnets()
	b.feet()
	b.wiring()
	b.fasteners()
	b.unused()
	order := Names()
	slices.SortStableFunc(b.list.Lines, func(x, y Line) int { return slices.Index(order, x.List) - slices.Index(order, y.List) })
	return b.list
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

// builder puts a list together.
type builder struct {
	r     *rig.Rig
	stock *propose.Stock
	list  List
	left  map[string]int // of owned parts, by where they stand in the stock
}

// note says what was taken or did not fit, once.
func (b *builder) note(format string, a ...any) {
	if n := fmt.Sprintf(format, a...); !slices.Contains(b.list.Notes, n) {
		b.list.Notes = append(b.list.Notes, n)
	}
}

// take takes up to want owned parts from the stock's i-th part of a kind: what two
// places use is taken once.
func (b *builder) take(kind string, i, owned, want int) int {
	key := fmt.Sprint(kind, i)
	if _, ok := b.left[key]; !ok {
		b.left[key] = owned
	}
	n := min(b.left[key], max(want, 0))
	b.left[key] -= n
	return n
}

// add puts a line into the list. Where a line of that name is there, it grows. Price,
// mass and owned ones that it lacks come from the stock's item of that name.
func (b *builder) add(l Line) {
	if l.Need+l.Spare == 0 {
		return
	}
	if l.Unit == "" {
		l.Unit = "pieces"
	}
	for i, it := range b.stock.Items {
		if it.Name != l.Name {
			continue
		}
		if l.Price == nil {
			l.Price = it.Price
		}
		if l.Mass == 0 {
			l.Mass = it.Mass
		}
		l.Owned += b.take("item", i, it.Owned, l.Need+l.Spare-l.Owned)
	}
	at := slices.IndexFunc(b.list.Lines, func(o Line) bool { return o.List == l.List && o.Name == l.Name && o.Unit == l.Unit })
	if at < 0 {
		b.list.Lines = append(b.list.Lines, l)
		return
	}
	o := &b.list.Lines[at]
	o.Need, o.Spare, o.Owned = o.Need+l.Need, o.Spare+l.Spare, o.Owned+l.Owned
	o.Why += "; " + l.Why
}

// unused says which items of the stock no list takes: a name may be misspelt.
func (b *builder) unused() {
	for _, it := range b.stock.Items {
		if !slices.ContainsFunc(b.list.Lines, func(l Line) bool { return l.Name == it.Name }) {
			b.note("the stock's item %q is on no list: names there are as in the lists", it.Name)
		}
	}
}

// alike says whether two lengths are one part: to a twentieth of a millimetre.
func alike(a, b unit.Length) bool { return max(a-b, b-a) < sameSize }
