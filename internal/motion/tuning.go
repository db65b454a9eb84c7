// SPDX-License-Identifier: Apache-2.0

package motion

import "boardhand/internal/unit"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// Blend is how far the arc that rounds a corner may leave it: 50 µm, a tenth of
// the carriage's own placement error, which the clearances hold. It is enough
// to take the bend at the beginning of a round at nearly full speed. Doubled, rounds
// are run a little faster, and each plan must hold that much more room.
const Blend unit.Length = 50e-6
