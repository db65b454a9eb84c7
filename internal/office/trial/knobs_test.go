// SPDX-License-Identifier: Apache-2.0

package trial

import (
	"slices"
	"strings"
	"testing"

	"boardhand/internal/assess/knob"
	"boardhand/internal/rig"
)

// Where a slider can stand, the rig file can be set to, and it says so: the next step up and down
// of each knob, set in the file, is the rig with the knob turned; and nothing is said of the step
// at which it stands.
func TestStepsAreSettings(t *testing.T) {
	r := rig.Default()
	all := Knobs(r)
	if len(all) < 30 {
		t.Fatalf("%d knobs turn", len(all))
	}
	for _, k := range all {
		if len(k.Steps[k.At].Set) > 0 {
			t.Errorf("%s stands at %+v", k.Name, k.Steps[k.At])
		}
		turn, ok := knob.Named(k.Name)
		if !ok {
			t.Fatalf("there is no knob %s", k.Name)
		}
		for _, n := range []int{-1, 1} {
			if k.At+n < 0 || k.At+n >= len(k.Steps) {
				continue
			}
			set, err := rig.Set("rig.toml", []byte(rig.DefaultText), k.Steps[k.At+n].Set, rig.Machine)
			if err != nil {
				if strings.Contains(err.Error(), " must be ") {
					t.Errorf("%s by %+d: %v", k.Name, n, err)
				}
				continue
			}
			turned, _ := turn.Turn(r, n)
			if got, want := turn.Settings(set), turn.Settings(turned); !slices.Equal(got, want) {
				t.Errorf("%s by %+d: the file says %v, the knob %v", k.Name, n, got, want)
			}
		}
	}
}

// Each knob stands under a heading that its name belongs to.
func TestEveryKnobHasItsGroup(t *testing.T) {
	for _, name := range knob.Names() {
		word, _, _ := strings.Cut(name, ".")
		if g := groups[groupOf(name)]; !slices.Contains(strings.Fields(g.words), word) {
			t.Errorf("%s stands under %s", name, g.title)
		}
	}
}
