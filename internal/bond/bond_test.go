// SPDX-License-Identifier: Apache-2.0

package bond

import (
	"math/rand/v2"
	"testing"

	"boardhand/internal/unit"
)

// cell is one unit of the plan, from the inside corner at front left.
type cell struct{ x, y int }

// plan says which element lies in each cell of course k, by laying the runs anew.
func plan(t *testing.T, r Ring, k int) map[cell]int {
	t.Helper()
	out, id := map[cell]int{}, 0
	put := func(run Run, across int, at func(along, across int) cell) {
		p := run.From
		for _, n := range run.Elements {
			id++
			for i := range n {
				for d := range r.Thick {
					c := at(p+i, across+d)
					if out[c] != 0 {
						t.Fatalf("course %d: two elements at %v", k, c)
					}
					out[c] = id
				}
			}
			p += n
		}
	}
	alongX := func(a, c int) cell { return cell{a, c} }
	alongY := func(a, c int) cell { return cell{c, a} }
	for _, across := range []int{-r.Thick, r.Inside[1]} {
		put(r.Courses[k%2].X, across, alongX)
	}
	for _, across := range []int{-r.Thick, r.Inside[0]} {
		put(r.Courses[k%2].Y, across, alongY)
	}
	return out
}

// sound checks a ring cell by cell: every cell of the wall is covered once, and two
// elements that meet in a course are both held by one above.
func sound(t *testing.T, r Ring) {
	t.Helper()
	below, above := plan(t, r, 0), plan(t, r, 1)
	cells := (r.Inside[0]+2*r.Thick)*(r.Inside[1]+2*r.Thick) - r.Inside[0]*r.Inside[1]
	for k, p := range []map[cell]int{below, above} {
		if len(p) != cells {
			t.Fatalf("%+v: course %d covers %d cells of %d", r.Wall, k, len(p), cells)
		}
		for c := range p {
			if c.x >= 0 && c.x < r.Inside[0] && c.y >= 0 && c.y < r.Inside[1] {
				t.Fatalf("%+v: course %d stands inside at %v", r.Wall, k, c)
			}
		}
	}
	for c := range below {
		for _, d := range []cell{{c.x + 1, c.y}, {c.x, c.y + 1}} {
			if below[d] == 0 || above[d] == 0 {
				continue
			}
			if below[c] != below[d] && above[c] != above[d] {
				t.Fatalf("%+v: a joint over a joint between %v and %v\n%+v", r.Wall, c, d, r.Courses)
			}
		}
	}
}

// cheapest is the least cost of a run by trying all.
func cheapest(n int, lengths []Length) int {
	if n == 0 {
		return 0
	}
	best := 1 << 30
	for _, l := range lengths {
		if l.Units <= n {
			best = min(best, l.Cost+cheapest(n-l.Units, lengths))
		}
	}
	return best
}

// Every size of a ring has a sound bond, from the smallest box to a large table.
func TestEverySizeHasABond(t *testing.T) {
	for thick := 1; thick <= 2; thick++ {
		for n := 1; n <= 40; n++ {
			r, err := Lay(Wall{Inside: [2]int{n, 41 - n}, Thick: thick, Full: 3}, Common)
			if err != nil {
				if n > 3 && n < 38 {
					t.Errorf("thick %d, %d units: %v", thick, n, err)
				}
				continue
			}
			sound(t, r)
		}
	}
	const seed = 20260101
	t.Logf("seed %d", seed)
	draw := rand.New(rand.NewPCG(seed, 1))
	for range 60 {
		w := Wall{Inside: [2]int{5 + draw.IntN(500), 5 + draw.IntN(500)}, Thick: 1 + draw.IntN(2), Full: 1}
		lengths := append([]Length{{1, 5 + draw.IntN(30)}, {2, 5 + draw.IntN(30)}, {3, 5 + draw.IntN(30)}}, Length{4 + draw.IntN(9), 5 + draw.IntN(30)})
		r, err := Lay(w, lengths)
		if err != nil {
			t.Errorf("%+v of %v: %v", w, lengths, err)
			continue
		}
		sound(t, r)
	}
}

// A run is as cheap as can be, where nothing is to be avoided.
func TestRunsAreCheapest(t *testing.T) {
	for n := 1; n <= 17; n++ {
		run, _, ok := layer{Common, 1}.lay(0, n, nil)
		total, length := 0, 0
		for _, e := range run.Elements {
			for _, l := range Common {
				if l.Units == e {
					total += l.Cost
				}
			}
			length += e
		}
		if want := cheapest(n, Common); !ok || total != want || length != n {
			t.Errorf("%d units: %v costs %d, want %d", n, run.Elements, total, want)
		}
	}
}

// Counted by hand: 400 mm square inside is 50 units. Ten courses of 2·54 + 2·50 =
// 208 units each are 2080 units of length, whatever they are laid of; mostly fours,
// and joints half an element apart.
func TestCountsOfASquareBox(t *testing.T) {
	full, plates := Heights(unit.MM(96))
	if n := Units(unit.MM(400)); full != 10 || plates != 0 || n != 50 {
		t.Fatalf("%d full, %d plates, %d units", full, plates, n)
	}
	r, err := Lay(Wall{Inside: [2]int{50, 50}, Thick: 2, Full: full}, Common)
	if err != nil {
		t.Fatal(err)
	}
	sound(t, r)
	counts, none := r.Counts()
	units := 0
	for n, k := range counts {
		units += n * k
	}
	if units != 2080 || counts[4] < 460 || len(none) != 0 || r.Overlap != 2 {
		t.Errorf("%d units, %v, plates %v, overlap %d", units, counts, none, r.Overlap)
	}
}

// Heights in plates: 3.2 mm each, three to a full element.
func TestHeights(t *testing.T) {
	for _, c := range []struct {
		mm           float64
		full, plates int
	}{{9.6, 1, 0}, {9.7, 1, 1}, {16, 1, 2}, {19.2, 2, 0}, {5, 0, 2}, {100, 10, 2}} {
		if f, p := Heights(unit.MM(c.mm)); f != c.full || p != c.plates {
			t.Errorf("%g mm: %d and %d, want %d and %d", c.mm, f, p, c.full, c.plates)
		}
	}
}

// Elements of one length alone give no bond, and the error says what would.
func TestNoBond(t *testing.T) {
	if _, err := Lay(Wall{Inside: [2]int{50, 50}, Thick: 2, Full: 1}, []Length{{8, 1}}); err == nil {
		t.Error("a wall of eights alone was laid")
	}
	if _, err := Lay(Wall{Inside: [2]int{50, 0}, Thick: 2, Full: 1}, Common); err == nil {
		t.Error("a ring without an inside was laid")
	}
}
