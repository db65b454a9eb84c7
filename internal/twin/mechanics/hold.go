// SPDX-License-Identifier: Apache-2.0

package mechanics

// held says how far a hold of a stroke has come.
type held int

const (
	going    held = iota
	slowing       // it comes to rest as soon as acceleration and jerk of the stroke allow
	standing      // on its way
)

// Hold brings the run to rest on its way, with no more acceleration and jerk than the
// stroke has. It may be called again.
func (p *Run) Hold() {
	if p.held == going && p.leg < len(p.legs) {
		p.held, p.rest = slowing, p.along+p.braking(p.speed, p.accel, 0)
	}
}

// Resume lets it go on from wherever it is.
func (p *Run) Resume() { p.held = going }

// IsStanding says whether a hold has brought it to rest.
func (p *Run) IsStanding() bool { return p.held == standing }

// stand ends the slowing down at its place of rest.
func (p *Run) stand() {
	if p.held == slowing && p.along >= p.rest-creep*Step {
		p.held, p.speed, p.accel = standing, 0, 0
	}
}
