// SPDX-License-Identifier: Apache-2.0

package follow

import (
	"slices"
	"strings"
	"testing"
)

// A board that stays odd is told of once, and again when it was right in between.
func TestMisfitsAreToldOnce(t *testing.T) {
	f, told := following(t, "f7 nothing")
	for i, text := range strings.Fields("illegal illegal hand illegal partial illegal illegal illegal illegal hand illegal") {
		if err := f.show(shown("f"+string(rune('1'+i))), reading(text)); err != nil {
			t.Fatal(err)
		}
	}
	if m := told.misfits; len(m) != 2 || m[0].Frame != "f4" || m[1].Frame != "f;" || m[0].Pictures != 3 || m[1].Pictures != 3 {
		t.Errorf("told %+v", m)
	}
}

// Pictures that all show a hand are told of once, and again when there was none in between.
func TestHandsThatStayAreToldOnce(t *testing.T) {
	f, told := following(t, "f7 nothing")
	for _, text := range slices.Concat(slices.Repeat([]string{"hand"}, 2*restingPictures), []string{"illegal"}, slices.Repeat([]string{"hand"}, restingPictures)) {
		if err := f.show(shown("f"), reading(text)); err != nil {
			t.Fatal(err)
		}
	}
	if m := told.misfits; len(m) != 2 || !m[0].IsHand || !m[1].IsHand || m[0].Pictures != restingPictures {
		t.Errorf("told %+v", m)
	}
}
