// SPDX-License-Identifier: Apache-2.0

// Package register finds how the camera moved between two pictures of one board:
// Gauss–Newton steps on the brightness around edges of the open board, coarse to fine.
package register
