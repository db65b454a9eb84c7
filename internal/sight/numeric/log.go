// SPDX-License-Identifier: Apache-2.0

package numeric

import "math"

// Log is a quick natural logarithm of a positive number, to 1e-4 absolute:
// enough for scores that are compared in whole nats. The mantissa's logarithm
// is a polynomial of fourth degree on [1, 2).
func Log(x float32) float64 {
	bits := math.Float32bits(x)
	e := int32(bits>>23) - 127
	m := float64(math.Float32frombits(bits&0x7fffff | 0x3f800000))
	return float64(e)*math.Ln2 - 1.7417939 + (2.8212026+(-1.4699568+(0.44717955-0.056570851*m)*m)*m)*m
}
