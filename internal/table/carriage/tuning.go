// SPDX-License-Identifier: Apache-2.0

package carriage

import "time"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// retireTime bounds how long a session that ends waits for the lift: twice what the
// slowest lift takes for its drop. Reasoned; doubled, a program that is stopped while
// the lift hangs ends later.
const retireTime = 5 * time.Second
