// SPDX-License-Identifier: Apache-2.0

package heads

import (
	"bytes"
	"encoding/binary"
	"math"
	"os"
	"testing"
)

// The looks of twelve ray-traced pieces as NumPy computes them from the same weights
// (looks.bin): another library for the same arithmetic.
func TestLooksAsAnotherLibraryHasThem(t *testing.T) {
	text, err := os.ReadFile("testdata/looks.bin")
	if err != nil {
		t.Fatal(err)
	}
	var want struct {
		Lean float32
		Look [looks]float32
		Grey [Side * Side]uint8
	}
	n := 0
	for r := bytes.NewReader(text); r.Len() > 0; n++ {
		if err := binary.Read(r, binary.LittleEndian, &want); err != nil {
			t.Fatal(err)
		}
		c := Crop{Grey: make([]float32, Side*Side), Lean: want.Lean}
		for i, v := range want.Grey {
			c.Grey[i] = float32(v)
		}
		for i, got := range c.Look() {
			if math.Abs(got-float64(want.Look[i])) > 2e-3 {
				t.Errorf("crop %d: number %d of its look is %.4f, the library has %.4f", n, i, got, want.Look[i])
			}
		}
	}
	if n != 12 {
		t.Errorf("%d crops compared, want 12", n)
	}
}

// Alike is the squared distance of two looks, 9 by hand, with the network's own share for
// pieces of one side; a piece is most like itself, and seen in a mirror it looks the same.
func TestAlike(t *testing.T) {
	var a, b Look
	b[0], b[5], b[31] = 1, -2, 2
	if got := Alike(&a, &b, false); got != -9 {
		t.Errorf("%g nats, want -9", got)
	}
	if one, two := Alike(&a, &b, true), Alike(&a, &b, false); one-two != likeNetwork().side {
		t.Errorf("one side counts %g nats", one-two)
	}
	if Unmet() > -2 || Unmet() < -20 {
		t.Errorf("a kind not met has %g nats", Unmet())
	}
	c, d := Crop{Grey: make([]float32, Side*Side)}, Crop{Grey: make([]float32, Side*Side)}
	for i := range c.Grey {
		c.Grey[i] = float32(i * 7919 % 251)
	}
	d.Grey = mirrored(c.Grey)
	x, y := c.Look(), d.Look()
	if v := Alike(&x, &y, false); v < -1e-4 {
		t.Errorf("a piece and its mirror image are %g nats apart", v)
	}
}

func BenchmarkLook(b *testing.B) {
	c := Crop{Grey: make([]float32, Side*Side)}
	for b.Loop() {
		c.Look()
	}
}

// mirrored is a crop seen in a mirror.
func mirrored(x []float32) []float32 {
	both := twice(x)
	return both.plane(0, 1)
}
