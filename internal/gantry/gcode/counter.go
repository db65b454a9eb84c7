// SPDX-License-Identifier: Apache-2.0

package gcode

// counter counts the characters that lie in the controller's receive buffer:
// each line sent takes room until it was answered. Source: the firmware's
// published interface description, character counting.
type counter struct {
	size  int   // of the receive buffer, bytes
	lines []int // lengths of the lines not yet answered, ends counted, oldest first
	used  int
}

// fits says whether a line of n bytes, its end counted, can be sent now.
func (c *counter) fits(n int) bool { return c.used+n <= c.size }

// send notes a line sent.
func (c *counter) send(n int) {
	c.lines = append(c.lines, n)
	c.used += n
}

// answer notes that the oldest line was answered; false when none waits.
func (c *counter) answer() bool {
	if len(c.lines) == 0 {
		return false
	}
	c.used -= c.lines[0]
	c.lines = c.lines[1:]
	return true
}
