// SPDX-License-Identifier: Apache-2.0

// Package pixels holds a camera's picture as the reader's other parts want it: reduced
// to about a pixel a millimetre, as logarithms of brightness and of colour ratios
// (Image), with averaging, sampling and levels of reduction; and where each of its
// pixels lies on the board plane (Plane).
package pixels
