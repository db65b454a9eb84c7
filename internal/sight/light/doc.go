// SPDX-License-Identifier: Apache-2.0

// Package light finds how the light on a table changed between two pictures of one view,
// place by place, and takes the change out: broad shadows, lamps, sun, reflections. What
// keeps its structure is the same thing in another light; what is smaller than a piece's
// surroundings is left alone, for it may be a piece. Where that leaves the light of a pixel
// open, the pixel is given in each light that it may be in.
package light
