// SPDX-License-Identifier: Apache-2.0

package knob

import (
	"sort"
	"strings"
	"testing"

	"boardhand/internal/rig"
)

// farthest is the rig with a knob turned as far one way as it goes; false where it does
// not turn at all.
func farthest(k Knob, r *rig.Rig, way int) (*rig.Rig, bool) {
	const most = 1 << 22 // steps: more than any knob has
	n := sort.Search(most, func(n int) bool {
		_, ok := k.Turn(r, way*(n+1))
		return !ok
	})
	if n == 0 || n == most {
		return r, false
	}
	c, _ := k.Turn(r, way*n)
	return c, true
}

// As far as a knob goes, the rig file takes what it is turned to: its range is the one
// that the knob keeps to.
func TestKnobsStayWithinTheRigFile(t *testing.T) {
	turned := 0
	for name, k := range knobs {
		for _, way := range []int{-1, 1} {
			r, ok := farthest(k, rig.Default(), way)
			if !ok {
				continue
			}
			turned++
			var set []rig.Setting
			for _, s := range k.Settings(r) {
				set = append(set, rig.Setting(s))
			}
			if _, err := rig.Set("rig.toml", []byte(rig.DefaultText), set, rig.Machine); err != nil && strings.Contains(err.Error(), " must be ") {
				t.Errorf("%s turned by %+d: %v", name, way, err)
			}
		}
	}
	if turned < len(knobs) {
		t.Errorf("%d ways of %d knobs were tried", turned, len(knobs))
	}
}
