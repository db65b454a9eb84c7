// SPDX-License-Identifier: Apache-2.0

package words

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// lastLine is the largest line number: from memory of the open firmware. Doubled,
// longer numbers pass.
const lastLine = 9999999
