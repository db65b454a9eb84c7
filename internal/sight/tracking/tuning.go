// SPDX-License-Identifier: Apache-2.0

package tracking

// The tuned numbers of this package: value, unit, meaning, and how they were found where that
// is on record.

// ordersRecalled is of how many orders of the same plies earlier pictures are asked: of four
// plies there are four, of six 36.
const ordersRecalled = 24
