// SPDX-License-Identifier: Apache-2.0

package background

import (
	"boardhand/internal/sight/light"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
)

// Evened is a picture brought towards the remembered light by one smooth function.
func (m *Model) Evened(sc *scene.Scene, raw *pixels.Image) *pixels.Image {
	k := FitIllumination(raw, m.familiarIn(sc), sc.Samples)
	return k.Apply(raw, sc.Plane.Box)
}

// Relit is a picture in the remembered light: what one smooth function changes is taken out,
// and where much of the board is still in another light, what changed place by place. What
// covers much of the board must not be in it: that would be taken for light.
func (m *Model) Relit(sc *scene.Scene, raw *pixels.Image) *pixels.Image {
	lit, familiar := m.Evened(sc, raw), m.familiarIn(sc)
	isElsewhere := light.IsElsewhere(lit, familiar, sc.Samples)
	if !isElsewhere && !light.IsBrighter(lit, familiar, sc.Samples) {
		return lit
	}
	then := assembled(sc, lit, familiar)
	side := sc.Setup.Square / sc.Plane.Pitch
	c := light.Between(lit, raw, then, side)
	if !isElsewhere && float64(c.OnlyReflections()) < veiledLeast*side*side {
		return lit
	}
	return c.Relit(lit, then, sc.Plane.Box)
}

// Elsewhere is the share of the board that is in another light than is remembered, but for
// what one smooth function changes.
func (m *Model) Elsewhere(sc *scene.Scene, raw *pixels.Image) float64 {
	return light.ShareElsewhere(m.Evened(sc, raw), m.familiarIn(sc), sc.Samples)
}

// Unveiled is a first picture without the reflections that lie on the board, by what its
// open places look like elsewhere: what lies on squares today lies on others tomorrow.
func (m *Model) Unveiled(sc *scene.Scene, raw *pixels.Image) *pixels.Image {
	then := assembled(sc, raw, func(i int32) *pixels.Image {
		if sc.Grounds[i] != scene.NoGround {
			return m.Even.Image
		}
		return raw
	})
	side := sc.Setup.Square / sc.Plane.Pitch
	c := light.Between(raw, raw, then, side)
	c.Keep(func(i int) bool { return sc.Grounds[i] != scene.NoGround && sc.Stack.Open(int32(i)) > 0.97 })
	if float64(c.OnlyReflections()) < veiledLeast*side*side {
		return raw
	}
	return c.Relit(raw, then, sc.Plane.Box)
}

// assembled is an image as noisy as one, each pixel on the plane from another.
func assembled(sc *scene.Scene, like *pixels.Image, from func(int32) *pixels.Image) *pixels.Image {
	q := pixels.Blank(like)
	q.Noise = like.Noise
	for i := range sc.Plane.Box.Each(like.W) {
		f := from(int32(i))
		q.L[i], q.A[i], q.B[i] = f.L[i], f.A[i], f.B[i]
	}
	return q
}

// familiarIn is Familiar in a scene.
func (m *Model) familiarIn(sc *scene.Scene) func(int32) *pixels.Image {
	return func(i int32) *pixels.Image { return m.Familiar(sc, i) }
}
