// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"strings"
)

// mask is povray's text of a black frame before the lens: what the sheet holds
// beyond the distorted picture, up to half of it, costs no light.
func (st *studio) mask(v view) string {
	const spare, near, beyond = 6.0, 5.0, 3.0 // pixels; mm before the lens; times the picture
	w, h := float64(v.w-1), float64(v.h-1)
	var rim []vec
	corner := [5][2]float64{{-spare, -spare}, {w + spare, -spare}, {w + spare, h + spare}, {-spare, h + spare}, {-spare, -spare}}
	for i := range 4 {
		for k := range 24 {
			t := float64(k) / 24
			x, y := v.undistort(corner[i][0]+(corner[i+1][0]-corner[i][0])*t, corner[i][1]+(corner[i+1][1]-corner[i][1])*t)
			rim = append(rim, vec{x * near, y * near, near})
		}
	}
	e, r := v.eye(), v.pose.R
	at := func(p vec, k float64) string {
		var q vec
		for i := range 3 {
			q[i] = r[0][i]*p[0]*k + r[1][i]*p[1]*k + r[2][i]*p[2]
		}
		return fine(vec{e.X + q[0], e.Y + q[1], e.Z + q[2]})
	}
	var b strings.Builder
	b.WriteString("mesh{")
	for i, p := range rim {
		q := rim[(i+1)%len(rim)]
		fmt.Fprintf(&b, "triangle{%s,%s,%s} triangle{%s,%s,%s}\n", at(p, 1), at(q, 1), at(p, beyond), at(q, 1), at(p, beyond), at(q, beyond))
	}
	b.WriteString("pigment{rgb 0} finish{ambient 0 diffuse 0} no_shadow no_reflection}\n")
	return b.String()
}
