// SPDX-License-Identifier: Apache-2.0

package session

import "time"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// patience is how long the table waits between tries of a silent camera. Reasoned: a
// camera that was plugged in again needs some seconds. Doubled, the first picture is
// seen up to a second later.
const patience = time.Second

// slow is how long a reading may take before the pages say so. How it was found is not
// recorded. Doubled, a page looks dead for six seconds.
const slow = 3 * time.Second
