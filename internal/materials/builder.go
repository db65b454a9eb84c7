// SPDX-License-Identifier: Apache-2.0

package materials

import (
	"fmt"
	"slices"

	"boardhand/internal/propose"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

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

// free is how many owned parts are left of the stock's i-th of a kind.
func (b *builder) free(kind string, i, owned int) int {
	if n, ok := b.left[fmt.Sprint(kind, i)]; ok {
		return n
	}
	return owned
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
