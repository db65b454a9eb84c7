package app

import "testing"

func TestCount(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{count(0, "step"), "0 steps"}, {count(1, "step"), "1 step"}, {count(2, "ply"), "2 plies"}, {count(1, "ply"), "1 ply"},
		{rate(1.26e6), "1.3 million a second"}, {rate(80_400), "80 thousand a second"}, {rate(532), "532 a second"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}
