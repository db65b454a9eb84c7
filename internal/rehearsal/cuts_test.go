// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"strings"
	"testing"

	"boardhand/internal/unit"
)

func TestFaultsOfRehearsals(t *testing.T) {
	for text, want := range map[string]string{"": "0 false", "power_cut": "0 true", "slip, power_cut ,fast": "2 true", "slip": "1 false"} {
		faults, cuts, err := ParseFaults(text)
		if got := unit.Count(len(faults), "fault"); err != nil || !strings.HasPrefix(got, want[:1]) || strings.HasSuffix(want, "true") != cuts {
			t.Errorf("%q: %v, %v, %v", text, faults, cuts, err)
		}
	}
	if _, _, err := ParseFaults("power_cut,ghosts"); err == nil || !strings.Contains(err.Error(), "power_cut") {
		t.Errorf("ghosts: %v", err)
	}
}
