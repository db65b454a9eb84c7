// SPDX-License-Identifier: Apache-2.0

// Package classify tells the kinds of pieces from the pictures of their heads.
package classify
