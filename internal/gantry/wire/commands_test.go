// SPDX-License-Identifier: Apache-2.0

package wire_test

import (
	"maps"
	"math"
	"testing"

	"boardhand/internal/gantry/wire"
)

// As many commands are spoilt as should be, each ill as often as it should, half of them
// on the way back; the same seed spoils the same.
func TestCommandRates(t *testing.T) {
	const n, rate, seed = 200000, 0.05, 7
	t.Log("seed", seed)
	once := func(seed uint64) (*wire.Commands, map[wire.Ill]int) {
		c, back := wire.NewCommands(rate, seed), map[wire.Ill]int{}
		for range n {
			c.Command()
			if ill := c.Answer(); ill != "" {
				back[ill]++
			}
		}
		return c, back
	}
	c, back := once(seed)
	all := 0
	for ill, share := range map[wire.Ill]float64{wire.Late: 0.25, wire.Lost: 0.25, wire.Doubled: 0.2, wire.Changed: 0.25, wire.Unplugged: 0.05} {
		got, want := float64(c.Count()[ill]), n*rate*share
		if math.Abs(got-want) > 4*math.Sqrt(want) {
			t.Errorf("%s: %.0f of %d, want %.0f", ill, got, n, want)
		}
		if half := got / 2; ill != wire.Unplugged && math.Abs(float64(back[ill])-half) > 4*math.Sqrt(half) {
			t.Errorf("%s: %d on the way back of %.0f", ill, back[ill], got)
		}
		all += c.Count()[ill]
	}
	if c.Sent() != n || back[wire.Unplugged] > 0 || all < n*rate*0.95 {
		t.Errorf("%d sent, %d spoilt", c.Sent(), all)
	}
	if same, _ := once(seed); !maps.Equal(same.Count(), c.Count()) {
		t.Error("the seed does not decide")
	}
}

// What is spoilt differs as its ill says.
func TestSpoiltCommands(t *testing.T) {
	const line = "G53G1X-12.5F600\n"
	c := wire.NewCommands(1, 3)
	for range 200 {
		lost, doubled, changed := c.Spoil([]byte(line), wire.Lost), c.Spoil([]byte(line), wire.Doubled), c.Spoil([]byte(line), wire.Changed)
		if n := len(lost); n != 0 && n != len(line)-1 {
			t.Errorf("lost: %q", lost)
		}
		if n := len(doubled); n != 2*len(line) && n != len(line)+1 {
			t.Errorf("doubled: %q", doubled)
		}
		bits := 0
		for i := range changed {
			for d := changed[i] ^ line[i]; d != 0; d &= d - 1 {
				bits++
			}
		}
		if bits != 1 || len(changed) != len(line) {
			t.Errorf("changed: %q", changed)
		}
	}
	if got := string(c.Spoil([]byte(line), wire.Late)); got != line || c.Spoil(nil, wire.Lost) != nil {
		t.Errorf("late: %q", got)
	}
}
