// SPDX-License-Identifier: Apache-2.0

package report

// mostBars is how many tolerances a tornado plot has: what is below is not seen.
const mostBars = 10

// leastBar is the fall, as a share of the largest, below which a tolerance has no bar: less
// than its outline's width.
const leastBar = 0.02
