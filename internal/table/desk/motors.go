// SPDX-License-Identifier: Apache-2.0

package desk

// Motors says whether a motion may begin.
type Motors string

// The states of the motors.
const (
	Running Motors = "running" // motions may begin
	Halted  Motors = "halted"  // a person stopped the machine: none begins
	Waiting Motors = "waiting" // a part failed: a person is to let it go on
	Held    Motors = "held"    // stopped, and a person is to let it go on
)

// halt is the state after a person stopped the machine.
func (m Motors) halt() Motors {
	if m == Waiting || m == Held {
		return Held
	}
	return Halted
}

// await is the state in which a person is waited for.
func (m Motors) await() Motors {
	if m.isHalted() {
		return Held
	}
	return Waiting
}

func (m Motors) isHalted() bool   { return m == Halted || m == Held }
func (m Motors) isAwaiting() bool { return m == Waiting || m == Held }
