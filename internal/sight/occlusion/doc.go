// SPDX-License-Identifier: Apache-2.0

// Package occlusion compares two pictures of one view cell by cell: whether the
// structure that was there, lines, edges, grain, can still be seen, whatever the light.
package occlusion
