// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"bytes"
	"fmt"
	"math"
	"testing"

	"boardhand/tools/score/card"
)

// answer is a belief that was stated, and whether it came true.
type answer struct {
	belief float64
	right  bool
}

// bin gathers answers of about one belief.
type bin struct {
	belief    float64 // mean
	right, of int
}

func reliability(said []answer) []bin {
	bins := make([]bin, len(card.Edges)-1)
	for _, a := range said {
		for k := range bins {
			if b := &bins[k]; a.belief >= card.Edges[k] && a.belief < card.Edges[k+1] {
				b.belief += a.belief
				b.of++
				if a.right {
					b.right++
				}
			}
		}
	}
	out := bins[:0]
	for _, b := range bins {
		if b.of > 0 {
			b.belief /= float64(b.of)
			out = append(out, b)
		}
	}
	return out
}

// wilson is the interval that holds a share with 95 % probability, seen right
// of times (E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209).
func wilson(right, of int) (low, high float64) {
	const z = 1.96
	n, p := float64(of), float64(right)/float64(of)
	mid := (p + z*z/(2*n)) / (1 + z*z/n)
	half := z / (1 + z*z/n) * math.Sqrt(p*(1-p)/n+z*z/(4*n*n))
	return mid - half, mid + half
}

// plotReliability draws, for each belief, the share that came true.
func plotReliability(bins []bin) []byte {
	const size, edge = 360.0, 50.0
	x := func(v float64) float64 { return edge + v*size }
	y := func(v float64) float64 { return edge/2 + (1-v)*size }
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.0f" font-family="sans-serif" font-size="11">`+"\n", size+2*edge+40, size+1.7*edge)
	fmt.Fprintf(&b, `<title>Beliefs of the reader and how often they came true</title><rect width="100%%" height="100%%" fill="#fbfaf5"/>`+"\n")
	for v := 0.0; v < 1.01; v += 0.25 {
		fmt.Fprintf(&b, `<path d="M%.1f %.1fV%.1fM%.1f %.1fH%.1f" stroke="#ccc" fill="none"/><text x="%.1f" y="%.1f" text-anchor="middle">%.2f</text><text x="%.1f" y="%.1f" text-anchor="end">%.2f</text>`+"\n",
			x(v), y(0), y(1), x(0), y(v), x(1), x(v), y(0)+16, v, x(0)-6, y(v)+4, v)
	}
	fmt.Fprintf(&b, `<path d="M%.1f %.1fL%.1f %.1f" stroke="#333" stroke-dasharray="4 3"/>`+"\n", x(0), y(0), x(1), y(1))
	for k, n := range bins {
		low, high := wilson(n.right, n.of)
		share := float64(n.right) / float64(n.of)
		fmt.Fprintf(&b, `<path d="M%.1f %.1fV%.1f" stroke="#333"/><circle cx="%.1f" cy="%.1f" r="3.5" fill="#333"/><text x="%.1f" y="%.1f">%.3f: %d of %d</text>`+"\n",
			x(n.belief), y(low), y(high), x(n.belief), y(share), x(0.04), y(0.96)+15*float64(k), n.belief, n.right, n.of)
	}
	fmt.Fprintf(&b, `<text x="%.1f" y="%.1f" text-anchor="middle">belief stated</text><text transform="translate(14 %.1f) rotate(-90)" text-anchor="middle">share that came true, with 95 %% interval</text></svg>`+"\n", x(0.5), y(0)+34, y(0.5))
	return b.Bytes()
}

// TestWilson checks the interval against a worked example: 8 of 10 gives
// 0.490–0.943 (from memory).
func TestWilson(t *testing.T) {
	low, high := wilson(8, 10)
	if math.Abs(low-0.490) > 1e-3 || math.Abs(high-0.943) > 1e-3 {
		t.Errorf("8 of 10: %.3f–%.3f", low, high)
	}
}
