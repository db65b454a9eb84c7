// SPDX-License-Identifier: Apache-2.0

package linear

import "math"

// Limits with which the weights are 95 % efficient for normal errors, standard deviations.
// Source: Holland and Welsch, Robust Regression Using Iteratively Reweighted Least-Squares (1977).
const HuberLimit, BiweightLimit = 1.345, 4.685

// Huber is the weight of a residual z (its size in standard deviations) in a
// fit that takes outliers beyond limit as far off only by limit: 1 up to it,
// limit/z beyond. Source: Huber, Robust Estimation of a Location Parameter
// (1964).
func Huber(z, limit float64) float64 { return math.Min(1, limit/math.Max(z, nearZero)) }

// Biweight is the weight of a residual z in a fit that drops outliers: falling smoothly
// from 1 to nothing at limit. It needs a good start, for it has more than one solution.
// Source: Beaton and Tukey (1974).
func Biweight(z, limit float64) float64 {
	if z >= limit {
		return 0
	}
	u := 1 - (z/limit)*(z/limit)
	return u * u
}
