// SPDX-License-Identifier: Apache-2.0

package lens

import (
	"boardhand/internal/chess"
)

// ring is one station of a piece's outline: height as a share of its height,
// radii as shares of its base's radius, and how far its middle is off the axis
// (towards where it looks), same share. Round pieces have equal radii.
type ring struct{ z, along, across, off float64 }

// round builds stations of a turned piece from pairs of height and radius.
func round(pairs ...float64) []ring {
	out := make([]ring, 0, len(pairs)/2)
	for i := 0; i+1 < len(pairs); i += 2 {
		out = append(out, ring{z: pairs[i], along: pairs[i+1], across: pairs[i+1]})
	}
	return out
}

// pedestal is the base that all turned pieces share, up to the stem, for a piece of
// whose height it takes the share k.
func pedestal(k float64) []ring {
	return round(0, 0.97, 0.05*k, 1, 0.12*k, 1, 0.17*k, 0.93, 0.22*k, 0.78, 0.30*k, 0.80, 0.36*k, 0.74, 0.46*k, 0.58, 0.62*k, 0.47)
}

// profiles are the outlines: common turner's shapes, drawn for this program.
var profiles = map[chess.Kind][]ring{
	chess.Pawn: append(pedestal(0.9), round(0.62, 0.36, 0.66, 0.38, 0.675, 0.58, 0.70, 0.60, 0.715, 0.42,
		0.74, 0.44, 0.78, 0.52, 0.84, 0.56, 0.90, 0.52, 0.95, 0.40, 0.985, 0.22, 1, 0.02)...),
	chess.Rook: append(pedestal(0.9), round(0.62, 0.48, 0.70, 0.50, 0.72, 0.64, 0.76, 0.68, 0.97, 0.70, 1, 0.68,
		1, 0.48, 0.94, 0.45, 0.93, 0.02)...),
	chess.Bishop: append(pedestal(0.7), round(0.50, 0.36, 0.60, 0.33, 0.615, 0.56, 0.64, 0.58, 0.655, 0.40,
		0.70, 0.46, 0.76, 0.50, 0.82, 0.46, 0.88, 0.34, 0.93, 0.18, 0.94, 0.10, 0.955, 0.14, 0.975, 0.14, 1, 0.02)...),
	chess.Queen: append(pedestal(0.65), round(0.50, 0.36, 0.64, 0.32, 0.655, 0.58, 0.68, 0.60, 0.70, 0.40, 0.74, 0.40,
		0.84, 0.56, 0.89, 0.62, 0.90, 0.56, 0.92, 0.36, 0.945, 0.20, 0.955, 0.14, 0.975, 0.14, 1, 0.02)...),
	chess.King: append(append(pedestal(0.6), round(0.48, 0.37, 0.62, 0.33, 0.635, 0.60, 0.66, 0.62, 0.675, 0.42, 0.71, 0.42,
		0.80, 0.54, 0.84, 0.56, 0.865, 0.42, 0.885, 0.16)...),
		ring{0.89, 0.09, 0.06, 0}, ring{0.925, 0.09, 0.06, 0}, ring{0.93, 0.26, 0.06, 0}, ring{0.955, 0.26, 0.06, 0},
		ring{0.96, 0.09, 0.06, 0}, ring{1, 0.09, 0.06, 0}, ring{1, 0.01, 0.01, 0}),
	chess.Knight: append(pedestal(0.9),
		ring{0.56, 0.58, 0.46, -0.05}, ring{0.62, 0.66, 0.42, -0.10}, ring{0.70, 0.60, 0.36, -0.14}, ring{0.76, 0.58, 0.33, -0.04},
		ring{0.80, 0.70, 0.31, 0.12}, ring{0.84, 0.74, 0.30, 0.18}, ring{0.89, 0.60, 0.27, 0.08}, ring{0.93, 0.40, 0.24, -0.08},
		ring{0.97, 0.22, 0.18, -0.20}, ring{1, 0.04, 0.05, -0.24}),
}
