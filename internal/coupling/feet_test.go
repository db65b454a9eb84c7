// SPDX-License-Identifier: Apache-2.0

package coupling

import (
	"math"
	"testing"

	"boardhand/internal/magnet"
	"boardhand/internal/unit"
)

// TestPushes: the table against the integral it is made from between its entries, and far
// off against two dipoles side by side, 3μ0m²/(4πr⁴). Source: Griffiths, Introduction to
// Electrodynamics, 6.1 (from memory).
func TestPushes(t *testing.T) {
	disc := magnet.Cylinder{Diameter: 6e-3, Thickness: 2e-3, Br: 1.2}
	p, err := PushesOf(disc, 0.08)
	if err != nil {
		t.Fatal(err)
	}
	for d := 6.3e-3; d < 0.08; d += 0.73e-3 {
		want, err := magnet.SideBySide(disc, disc, unit.Length(d))
		if err != nil {
			t.Fatal(err)
		}
		if got := p.Force(d); d > 7e-3 && math.Abs(got/want-1) > 0.002 {
			t.Errorf("at %.2f mm: %g N, want %g", 1e3*d, got, want)
		}
	}
	const mu0 = 4e-7 * math.Pi
	moment := 1.2 / mu0 * math.Pi * 9e-6 * 2e-3
	dipoles := 3 * mu0 * moment * moment / (4 * math.Pi * math.Pow(0.075, 4))
	if got := p.Force(0.075); math.Abs(got/dipoles-1) > 0.01 {
		t.Errorf("far off: %g N, two dipoles %g", got, dipoles)
	}
	if math.IsNaN(p.Force(1)) || math.IsNaN(p.Force(math.Inf(1))) || !math.IsNaN((Pushes{}).Force(0.01)) {
		t.Error("beyond the table, or without one")
	}
}
