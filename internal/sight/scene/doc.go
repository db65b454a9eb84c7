// SPDX-License-Identifier: Apache-2.0

// Package scene is which pieces stand where on the board of one view: their projected
// outlines in depth order, and the rectified geometry of the board plane that they cover.
package scene
