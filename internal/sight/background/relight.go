// SPDX-License-Identifier: Apache-2.0

package background

import (
	"boardhand/internal/sight/light"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
)

// Relit is a picture in the remembered light: what one smooth function changes is taken out,
// and where much of the board is still in another light, what changed place by place.
func (m *Model) Relit(sc *scene.Scene, raw *pixels.Image) *pixels.Image {
	familiar := func(i int32) *pixels.Image { return m.Familiar(sc, i) }
	k := FitIllumination(raw, familiar, sc.Samples)
	lit := k.Apply(raw, sc.Plane.Box)
	if !light.IsElsewhere(lit, familiar, sc.Samples) {
		return lit
	}
	then := pixels.Blank(lit)
	then.Noise = lit.Noise
	for i := range sc.Plane.Box.Each(lit.W) {
		f := familiar(int32(i))
		then.L[i], then.A[i], then.B[i] = f.L[i], f.A[i], f.B[i]
	}
	return light.Between(lit, raw, then, sc.Setup.Square/sc.Plane.Pitch).Relit(lit, then, sc.Plane.Box)
}
