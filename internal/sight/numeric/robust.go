// SPDX-License-Identifier: Apache-2.0

package numeric

// RobustDivisor divides the weight of a residual of z standard deviations in a robust
// fit, Geman and McClure's: 1 for none, 4 for one, and the fourth power of what lies far out.
func RobustDivisor(z float64) float64 { return (1 + z*z) * (1 + z*z) }
