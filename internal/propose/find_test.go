// SPDX-License-Identifier: Apache-2.0

package propose

import (
	"math/rand"
	"reflect"
	"slices"
	"testing"
)

// Any order of joining gives the Pareto set of brute force.
func TestParetoSet(t *testing.T) {
	const seed = 7
	rng := rand.New(rand.NewSource(seed))
	t.Logf("seed %d", seed)
	for range 50 {
		var all, front []find
		for n := range 200 {
			f := find{n: n, margin: float64(rng.Intn(12)), cost: float64(rng.Intn(12)), time: float64(rng.Intn(12)), warned: uint64(rng.Intn(2))}
			all = append(all, f)
		}
		for _, i := range rng.Perm(len(all)) {
			front = joined(front, all[i])
		}
		want := slices.DeleteFunc(slices.Clone(all), func(f find) bool {
			return slices.ContainsFunc(all, func(o find) bool { return dominates(o, f) })
		})
		slices.SortFunc(front, func(a, b find) int { return a.n - b.n })
		if !reflect.DeepEqual(front, want) {
			t.Fatalf("joined %v, by brute force %v", front, want)
		}
	}
}
