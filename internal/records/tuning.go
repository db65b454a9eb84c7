// SPDX-License-Identifier: Apache-2.0

package records

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// overlayQuality of the pictures drawn on: it keeps thin lines clean. Found by looking;
// halved, lines have fringes.
const overlayQuality = 92
