// SPDX-License-Identifier: Apache-2.0

// Package numeric holds the small arithmetic that all of the reader's parts share:
// order statistics, linear equations, correlation, a quick logarithm.
package numeric
