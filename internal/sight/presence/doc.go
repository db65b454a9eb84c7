// SPDX-License-Identifier: Apache-2.0

// Package presence tells what one picture shows at a place by that place alone, whatever
// the position says: whether a piece stands there, where, and of which side.
package presence
