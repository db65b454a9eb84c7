// SPDX-License-Identifier: Apache-2.0

// Package hypothesis is what can have happened since a position: moves, what lies on the
// way to them, nothing, or a state that no rule allows; and how likely each is beforehand.
package hypothesis
