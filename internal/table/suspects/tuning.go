// SPDX-License-Identifier: Apache-2.0

package suspects

// unmeasured is the standard deviation, as a share of the square, of where a piece
// stands that nobody has measured: a guest's careless hand, twice what plans count
// on. Common practice, no source. No push is told of such a piece below half a
// square; doubled, none is told at all.
const unmeasured = 0.1
