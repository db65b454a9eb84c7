// SPDX-License-Identifier: Apache-2.0

package light

import (
	"math"
	"math/rand/v2"
	"testing"
)

// What is looked up is what the exponential gives, to the bit; near the steps too.
func TestLightOf(t *testing.T) {
	d := rand.New(rand.NewPCG(17, 4))
	logs := []float32{float32(math.Inf(-1)), 0, darkest, brightest, 9}
	for range 200000 {
		logs = append(logs, float32(1.8+4*d.Float64()))
	}
	for _, l := range fromLogs {
		logs = append(logs, math.Nextafter32(l, 0), l, math.Nextafter32(l, 9))
	}
	for _, l := range logs {
		if got, want := lightOf(l), linearTable[quarterOf(l)]; got != want {
			t.Fatalf("of %v: %v, want %v", l, got, want)
		}
	}
}
