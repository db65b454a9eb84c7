// SPDX-License-Identifier: Apache-2.0

package guide

import "time"

// lookEvery is how often a picture is taken while somebody holds or sets something before the
// camera. Reasoned: a hand follows what it sees twice a second. Doubled, a sheet is aimed slower.
const lookEvery = time.Second / 2
