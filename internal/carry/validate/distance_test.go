// SPDX-License-Identifier: Apache-2.0

package validate

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The exact distance from a polyline is what walking along it in fine steps
// finds.
func TestClosestIsExact(t *testing.T) {
	const seed = 12
	t.Logf("seed %d", seed)
	rnd := rand.New(rand.NewPCG(seed, 11))
	place := func() spot { return spot{X: rnd.Float64(), Y: rnd.Float64()} }
	for range 200 {
		path := []spot{place(), place(), place(), place()}
		c := place()
		got, at := closest(path, c)
		want := math.Inf(1)
		for i := 0; i+1 < len(path); i++ {
			for k := range 2001 {
				f := float64(k) / 2000
				q := spot{X: path[i].X + f*(path[i+1].X-path[i].X), Y: path[i].Y + f*(path[i+1].Y-path[i].Y)}
				want = math.Min(want, q.Distance(c))
			}
		}
		if got > want+1e-12 || got < want-1e-3 || at < 0 || at > 3 {
			t.Fatalf("closest %v at %v, walking finds %v", got, at, want)
		}
	}
}
