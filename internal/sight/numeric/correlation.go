// SPDX-License-Identifier: Apache-2.0

package numeric

import "math"

// Moments are the sums of pairs.
type Moments struct{ n, x, y, xx, yy, xy float64 }

// Add takes in a pair.
func (m *Moments) Add(x, y float64) {
	m.n++
	m.x += x
	m.y += y
	m.xx += x * x
	m.yy += y * y
	m.xy += x * y
}

// Correlation of the pairs, −1 to 1; 0 when one of them does not vary.
func (m *Moments) Correlation() float64 {
	v := (m.n*m.xx - m.x*m.x) * (m.n*m.yy - m.y*m.y)
	if v < 1e-12 {
		return 0
	}
	return (m.n*m.xy - m.x*m.y) / math.Sqrt(v)
}
