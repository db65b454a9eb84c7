// SPDX-License-Identifier: Apache-2.0

package office

import "time"

// lookEvery is how often the rig file's size and time of saving are looked at: a file that was
// saved is judged after one to two of them. Reasoned; doubled, a page follows a save after a
// second and a half at most instead of after three quarters.
const lookEvery = 400 * time.Millisecond

// patience is how long one answer may take to be written, once it is worked out, as that of all
// pages. Doubled, a page that fell asleep holds its connection twice as long.
const patience = 5 * time.Second

// largestPost is more than all keys of a rig file need, bytes. Reasoned; doubled, nothing is taken
// that was not.
const largestPost = 1 << 16
