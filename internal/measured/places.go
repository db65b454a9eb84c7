// SPDX-License-Identifier: Apache-2.0

package measured

import (
	"slices"

	"boardhand/internal/asbuilt"
	"boardhand/internal/unit"
)

// Places are the sightings of an estimate.
func Places(seen []asbuilt.Sighting, f asbuilt.Fit) (out []Place) {
	for i, s := range seen {
		r := f.Residual[i]
		out = append(out, Place{At: [2]unit.Length{unit.Length(s.Seen.X), unit.Length(s.Seen.Y)},
			Off: [2]unit.Length{unit.Length(r.X), unit.Length(r.Y)}, Outlier: slices.Contains(f.Outliers, i)})
	}
	return out
}

// Outliers counts the places that were left out of the estimate.
func Outliers(places []Place) (n int) {
	for _, p := range places {
		if p.Outlier {
			n++
		}
	}
	return n
}
