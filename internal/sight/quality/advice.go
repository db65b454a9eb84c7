// SPDX-License-Identifier: Apache-2.0

package quality

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Advice says what to change, the most important first; none where all is well.
func (r Report) Advice(squareMM float64) (out []string) {
	out = append(out, r.aboutFocus(squareMM)...)
	if k := r.PixelsPerSquare[0]; k < smallSquare {
		out = append(out, fmt.Sprintf("A square has only %.0f pixels a side: choose a larger camera.image, or hang the camera lower.", k))
	}
	out = append(out, r.aboutLight()...)
	if r.TiltDeg > muchTilt {
		out = append(out, fmt.Sprintf("The camera looks down at a slant of %.0f degrees, so that pieces hide their neighbours: hang it straight over the middle.", r.TiltDeg))
	}
	return out
}

// aboutFocus tells of blurred corners: of all, or of some.
func (r Report) aboutFocus(squareMM float64) []string {
	sharp := r.sharpEnough(squareMM)
	var blurred []string
	for _, name := range Places {
		if w, ok := r.Edge[name]; ok && w > sharp {
			blurred = append(blurred, name)
		}
	}
	switch {
	case len(r.Edge) == 0:
		return []string{"No edge of a square is seen plainly: take the pieces off the middle, give it light, and look again."}
	case len(blurred) == 0:
		return nil
	case len(blurred) == len(r.Edge):
		return []string{fmt.Sprintf("The whole board is blurred (edges %.1f pixels wide): turn the lens until that is under %.1f, clean it, and keep the camera still.", slices.Min(slices.Collect(maps.Values(r.Edge))), sharp)}
	}
	return []string{fmt.Sprintf("Blurred near %s: focus between there and the sharpest corner, or hang the camera straighter.", strings.Join(blurred, ", "))}
}

// sharpEnough is how wide an edge may be, px.
func (r Report) sharpEnough(squareMM float64) float64 {
	return min(blurredPX, blurredMM*r.PixelsPerSquare[0]/squareMM)
}

func (r Report) aboutLight() (out []string) {
	if r.Bright > muchClipped {
		out = append(out, fmt.Sprintf("%.0f %% of the board is too bright to tell anything: shorten the exposure, or move the lamp that mirrors in it.", 100*r.Bright))
	}
	if len(r.Light) > 0 {
		least, most := slices.Min(slices.Collect(maps.Values(r.Light))), slices.Max(slices.Collect(maps.Values(r.Light)))
		if most < dim {
			out = append(out, fmt.Sprintf("It is dark: the lighter squares reach %.0f of 255. Give it more light, or a longer exposure.", most))
		}
		if most > uneven*max(least, 1) {
			out = append(out, fmt.Sprintf("One corner is %.1f times as bright as another: a second lamp, or one farther away, makes it even.", most/max(least, 1)))
		}
	}
	if r.Contrast < flat {
		out = append(out, fmt.Sprintf("Lighter and darker squares differ by %.0f of 255 only: reading will be less sure. Even light from the side helps.", r.Contrast))
	}
	if r.Noise > noisy {
		out = append(out, fmt.Sprintf("The pictures are noisy (%.1f grey levels from one to the next): more light, less gain.", r.Noise))
	}
	return out
}
