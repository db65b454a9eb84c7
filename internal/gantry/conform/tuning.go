// SPDX-License-Identifier: Apache-2.0

package conform

import "time"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// liftError is how far from its end the lift may be when it is said to be there, as
// a share of its way: less than the spring under the magnet gives. Doubled, a lift
// that is told too soon would pass.
const liftError = 0.05

// heldFor is how long a stroke is held, longer than any driver waits for an answer to a
// line. Doubled, the suite takes no longer in bubble time.
const heldFor = 12 * time.Second
