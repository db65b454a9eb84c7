// SPDX-License-Identifier: Apache-2.0

package linear

import "testing"

// The weight is the slope of Huber's loss over the residual: z²/2 up to the
// limit, limit·(z − limit/2) beyond.
func TestHuberIsTheSlopeOfItsLoss(t *testing.T) {
	const limit, h = 2.45, 1e-6
	loss := func(z float64) float64 {
		if z <= limit {
			return z * z / 2
		}
		return limit * (z - limit/2)
	}
	for _, z := range []float64{0.1, 1, 2.44, 2.46, 5, 100} {
		near(t, "weight", Huber(z, limit), (loss(z+h)-loss(z-h))/(2*h*z), 1e-6)
	}
	near(t, "at nothing", Huber(0, limit), 1, 0)
}
