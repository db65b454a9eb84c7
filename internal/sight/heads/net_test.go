// SPDX-License-Identifier: Apache-2.0

package heads

import (
	"bytes"
	"encoding/binary"
	"math"
	"os"
	"testing"

	"boardhand/internal/chess"
)

// The answers of the network as PyTorch computes it (answers.bin, written by
// tools/heads/learn.py): an independent library for the same arithmetic.
func TestAnswersAsTheLibraryThatLearnt(t *testing.T) {
	text, err := os.ReadFile("testdata/answers.bin")
	if err != nil {
		t.Fatal(err)
	}
	var want struct {
		Extra   [extras]float32
		Answers [answers]float32
		Grey    [Side * Side]uint8
	}
	n := 0
	for r := bytes.NewReader(text); r.Len() > 0; n++ {
		if err := binary.Read(r, binary.LittleEndian, &want); err != nil {
			t.Fatal(err)
		}
		c := Crop{Grey: make([]float32, Side*Side), Extra: want.Extra}
		for i, v := range want.Grey {
			c.Grey[i] = float32(v)
		}
		for i, got := range network().say(twice(even(c.Grey)), c.Extra[:]...)[0] {
			if math.Abs(float64(got-want.Answers[i])) > 1e-3 {
				t.Errorf("crop %d: %v %.4f nats, the library says %.4f", n, chess.Kind(i), got, want.Answers[i])
			}
		}
	}
	if n != 12 {
		t.Errorf("%d crops compared, want 12", n)
	}
}

// A piece and its mirror image weigh alike, but for rounding.
func TestWeighMirrored(t *testing.T) {
	a, b := Crop{Grey: make([]float32, Side*Side)}, Crop{Grey: make([]float32, Side*Side)}
	for i := range a.Grey {
		a.Grey[i] = float32(i * 7919 % 251)
		b.Grey[i-i%Side+Side-1-i%Side] = a.Grey[i]
	}
	x, y := a.Weigh(), b.Weigh()
	for k := range x {
		if math.Abs(x[k]-y[k]) > 1e-3 {
			t.Errorf("%v: %.4f and %.4f nats", chess.Kind(k), x[k], y[k])
		}
	}
}

func BenchmarkWeigh(b *testing.B) {
	c := Crop{Grey: make([]float32, Side*Side)}
	for b.Loop() {
		c.Weigh()
	}
}
