// SPDX-License-Identifier: Apache-2.0

package unit

import "testing"

func TestCount(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Count(0, "step"), "0 steps"}, {Count(1, "step"), "1 step"}, {Count(2, "ply"), "2 plies"}, {Count(1, "ply"), "1 ply"},
		{Rate(1.26e6), "1.3 million a second"}, {Rate(80_400), "80 thousand a second"}, {Rate(532), "532 a second"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}
