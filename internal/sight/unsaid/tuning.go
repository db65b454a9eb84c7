// SPDX-License-Identifier: Apache-2.0

package unsaid

// usualBorder is how wide a margin is taken for that nobody has measured, in squares: of most
// boards it is wider, and what is beyond counts as table.
const usualBorder = 0.15
