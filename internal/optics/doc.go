// SPDX-License-Identifier: Apache-2.0

// Package optics holds the camera's arithmetic: the lens, where it hangs, what
// it sees of the board, how far pieces lean, and the calibration of all that from
// corners found in pictures.
//
// Frames are those of package frame: Board with z up, Camera with x right,
// y down, z out of the lens, Image in pixels with the centre of the first
// pixel at (0, 0). Lengths are metres, angles radians.
package optics
