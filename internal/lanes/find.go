// SPDX-License-Identifier: Apache-2.0

package lanes

// Shortest returns the shortest clear way; false when there is none at all.
func (f Field) Shortest(from, to Spot) (Path, bool) {
	return f.firm().find(from, to, 0, price{})
}

// firm is the field in which nothing yields.
func (f Field) firm() Field {
	if f.hasYields() {
		f.Obstacles = append([]Obstacle(nil), f.Obstacles...)
		for i := range f.Obstacles {
			f.Obstacles[i].Yields = false
		}
	}
	return f
}

// find is the cheapest way with extra room beyond every Keep.
func (f Field) find(from, to Spot, extra float64, p price) (Path, bool) {
	if from == to {
		return f.Measure([]Spot{from, to}), true
	}
	cs := f.grown(from, to, extra)
	if !f.hasYields() && straight(cs) {
		return f.Measure([]Spot{from, to}), true
	}
	g := newGraph(f, cs)
	as := g.seek(p)
	if as == nil {
		return Path{}, false
	}
	w := g.pathOf(as)
	m := f.Measure(w.Points)
	m.Yields = w.Yields
	return m, true
}

func (f Field) hasYields() bool {
	for _, h := range f.Obstacles {
		if h.Yields {
			return true
		}
	}
	return false
}

// straight says whether the direct line misses every circle.
func straight(cs []circle) bool {
	n := len(cs)
	s := segment{cs[n-2].c, cs[n-1].c}
	for _, c := range cs[:n-2] {
		if r := c.r - touching; r > 0 && s.distance2(c.c) < r*r {
			return false
		}
	}
	return true
}

// Taste is what makes one clear way better than another.
type Taste struct {
	Room   float64 // extra room that is worth having, metres; more is no better
	Longer float64 // how much longer than the shortest a way may be, as a share
	Bend   float64 // what a bend is worth, metres
	// Suits, when given, has the last word on a roomy way beside the shortest.
	Suits func(roomy, shortest Path) bool
}

// takes says whether the roomy way is worth its length.
func (t Taste) takes(roomy, shortest Path) bool {
	return roomy.Length <= shortest.Length*(1+t.Longer) && (t.Suits == nil || t.Suits(roomy, shortest))
}

// Best returns a way through the wider gaps: the one with the most extra room
// that is hardly longer than the shortest, which follows the middles of the
// lanes, and with few bends; on the side away from the board's rim where that
// side has room enough. False when there is no way at all.
func (f Field) Best(from, to Spot, t Taste) (Path, bool) {
	f = f.firm()
	if straight(f.grown(from, to, t.Room)) {
		return f.Measure([]Spot{from, to}), true
	}
	short, ok := f.Shortest(from, to)
	if !ok {
		return Path{}, false
	}
	best, found := short, false
	for n, share := range roomSteps {
		if found && n >= enoughRoom {
			break
		}
		w, ok := f.find(from, to, share*t.Room, price{bend: t.Bend})
		if !ok || !t.takes(w, short) {
			continue
		}
		if !found || w.Rim == 0 {
			best, found = w, true
		}
		if w.Rim == 0 || !f.Favoured.Holds(from) || !f.Favoured.Holds(to) {
			break
		}
	}
	return best, true
}

// Through returns the way that asks the fewest yielding obstacles to step aside
// (an obstacle is worth the given detour in metres); false when even that fails.
func (f Field) Through(from, to Spot, detour float64) (Path, bool) {
	return f.find(from, to, 0, price{yielder: detour})
}
