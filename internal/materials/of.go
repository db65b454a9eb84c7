// SPDX-License-Identifier: Apache-2.0

package materials

import (
	"slices"

	"boardhand/internal/propose"
	"boardhand/internal/rig"
)

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
