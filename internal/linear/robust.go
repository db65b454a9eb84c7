// SPDX-License-Identifier: Apache-2.0

package linear

import "math"

// Huber is the weight of a residual z (its size in standard deviations) in a
// fit that takes outliers beyond limit as far off only by limit: 1 up to it,
// limit/z beyond. Source: Huber, Robust Estimation of a Location Parameter
// (1964).
func Huber(z, limit float64) float64 { return math.Min(1, limit/math.Max(z, nearZero)) }
