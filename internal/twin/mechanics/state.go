// SPDX-License-Identifier: Apache-2.0

package mechanics

// AxisState is what a file needs of an axis, m.
type AxisState struct {
	Motor float64 `json:"motor"` // where the counts say the carriage is
	Lost  float64 `json:"lost"`  // truth minus counts
	Slack float64 `json:"slack"` // of the carriage within the play
}

// State is what a later machine of the same rig needs to stand as this one.
type State struct {
	Lift   float64 // 0 lowered … 1 raised
	Raises int     // how often a lift that will stay down still goes up
	Axes   [2]AxisState
}

// State copies how the machine stands.
func (c *Carriage) State() State {
	s := State{Lift: c.Lift, Raises: c.jam.raises}
	for i, a := range c.axes {
		s.Axes[i] = AxisState{a.motor, a.lost, a.slack}
	}
	return s
}

// Restore has the machine stand as another stood.
func (c *Carriage) Restore(s State) {
	c.Lift, c.jam.raises = s.Lift, s.Raises
	for i, a := range s.Axes {
		c.axes[i].motor, c.axes[i].lost, c.axes[i].slack = a.Motor, a.Lost, a.Slack
	}
}
