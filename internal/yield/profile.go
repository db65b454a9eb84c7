// SPDX-License-Identifier: Apache-2.0

package yield

import (
	"math"

	"boardhand/internal/magnet"
)

// profile is the pull of one pair of magnets over the offset at one gap, at even steps,
// cubic between (Catmull and Rom): most of what is asked of a build is asked at three
// gaps. Its gap is not looked at. Beyond the last step the pull of the last one counts.
type profile struct{ of []magnet.Pull }

// newProfile samples a table at a gap, metres, out to an offset.
func newProfile(table *magnet.Map, gap, to float64, into []magnet.Pull) (profile, error) {
	p := profile{into[:0]}
	for i := range int(math.Ceil(to/profileStep)) + 3 {
		f, err := table.At(gap, float64(i)*profileStep)
		if err != nil {
			return p, err
		}
		p.of = append(p.of, f)
	}
	return p, nil
}

// At is the pull at an offset, metres.
func (p profile) At(_, offset float64) (magnet.Pull, error) {
	away := math.Abs(offset) / profileStep
	i := min(int(away), len(p.of)-3)
	t := min(away-float64(i), 1)
	before := p.of[max(i-1, 1-i)] // of the axis: the sample on its other side
	if i == 0 {
		before.Lateral = -before.Lateral
	}
	a, b, c := &p.of[i], &p.of[i+1], &p.of[i+2]
	out := magnet.Pull{Axial: cubic(before.Axial, a.Axial, b.Axial, c.Axial, t), Lateral: cubic(before.Lateral, a.Lateral, b.Lateral, c.Lateral, t)}
	if offset < 0 {
		out.Lateral = -out.Lateral
	}
	return out, nil
}

// cubic goes through b and c, with the slopes of their neighbours.
func cubic(a, b, c, d, t float64) float64 {
	return b + t/2*(c-a+t*(2*a-5*b+4*c-d+t*(3*(b-c)+d-a)))
}
