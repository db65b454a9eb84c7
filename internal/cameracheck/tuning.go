// SPDX-License-Identifier: Apache-2.0

package cameracheck

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// heightDiffers is by what share the height that a picture tells may differ from the
// rig file's: a picture alone tells it to 3 % (its focal length is known no better).
// Doubled, a height typed wrongly by a tenth passes.
const heightDiffers = 0.06
