// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"boardhand/internal/gantry"
	"boardhand/internal/rig"
)

// The controller's settings that matter here, by number. Source: the firmware's
// published interface description.
const (
	setReports   = 10 // bit 0: positions in machine coordinates
	setJunction  = 11 // mm
	setArcs      = 12 // mm, by which chords may leave an arc
	setInches    = 13
	setSoftEnds  = 20
	setHoming    = 22
	setDirection = 23 // bits of the axes that home towards their low ends
	setLocate    = 24 // mm/min
	setSeek      = 25 // mm/min
	setPullOff   = 27 // mm
	setSpindle   = 30 // largest S
	setLaser     = 32
	setSteps     = 100 // of x, a mm; y and z follow
	setRate      = 110 // mm/min
	setAccel     = 120 // mm/s²
	setTravel    = 130 // mm
)

// settings are what the controller told for $$.
type settings map[int]float64

// expected is a machine as the rig file has it.
type expected struct {
	axes  [2]gantry.Axis
	lift  rig.Controller
	drop  float64 // m, of the lift
	speed float64 // m/s, of the lift
}

// expectedOf reads from a rig what its controller must be set to.
func expectedOf(r *rig.Rig) (expected, error) {
	e := expected{lift: r.Controller, drop: float64(r.Lift.Drop), speed: float64(r.Lift.Speed)}
	for i, name := range []string{"x", "y"} {
		var err error
		if e.axes[i], err = gantry.AxisOf(r, name); err != nil {
			return e, err
		}
	}
	return e, nil
}

// Differences are what the controller is set to otherwise than the rig file says.
type Differences []string

// Error says what to do: each difference by both numbers and what to type.
func (d Differences) Error() string {
	return "the controller is set otherwise than the rig file says: " + strings.Join(d, "; ")
}

// compare says what differs; nil: nothing.
func (e expected) compare(s settings) error {
	c := comparison{set: s}
	for i, a := range e.axes {
		key := "axis." + a.Name + "."
		c.same(setSteps+i, a.PerMetre/1e3, "steps/mm", key+"motor.counts")
		c.same(setRate+i, a.Bounds.Speed*perMinute, "mm/min", key+"speed")
		c.same(setAccel+i, a.Bounds.Accel*1e3, "mm/s²", key+"acceleration")
		c.atLeast(setTravel+i, a.Travel*1e3+c.set[setPullOff], "mm", key+"travel, and what $27 backs off,")
	}
	machine := int(s[setReports]) | 1
	c.must(setReports, int(s[setReports]) == machine, "positions come in work coordinates", strconv.Itoa(machine))
	c.must(setInches, s[setInches] == 0, "reports come in inches", "0")
	c.must(setHoming, int(s[setHoming])&1 == 1, "homing is switched off", "1")
	c.must(setSoftEnds, s[setSoftEnds] == 1, "soft limits are off, and a coordinate damaged on the wire could drive an axis into its end", "1")
	low := int(s[setDirection]) | 3
	c.must(setDirection, int(s[setDirection]) == low, "the zeros of x and y are at their low ends, and it homes elsewhere", strconv.Itoa(low))
	e.compareLift(&c)
	if len(c.out) > 0 {
		return c.out
	}
	return nil
}

// compareLift compares what the lift needs.
func (e expected) compareLift(c *comparison) {
	switch e.lift.Lift {
	case "spindle":
		c.must(setLaser, c.set[setLaser] == 0, "laser mode switches the lift off", "0")
		c.atLeast(setSpindle, float64(max(e.lift.LiftUp, e.lift.LiftDown)), "at most for S", "controller.lift_up, lift_down")
	case "axis":
		c.atLeast(setRate+2, e.speed*perMinute, "mm/min", "lift.speed and lift.drop")
		c.atLeast(setTravel+2, e.drop*1e3+c.set[setPullOff], "mm", "lift.drop, and what $27 backs off,")
	}
}

// comparison collects differences.
type comparison struct {
	set settings
	out Differences
}

// same notes a setting that is not what a key of the rig file says.
func (c *comparison) same(n int, want float64, of, key string) {
	got, ok := c.set[n]
	if !ok {
		c.out = append(c.out, fmt.Sprintf("it told no $%d: install version 1.1 of its firmware", n))
		return
	}
	if math.Abs(got-want) > settingShare*want {
		c.out = append(c.out, fmt.Sprintf("$%d is %.3f %s and the rig file's %s gives %.3f: type $%d=%.3f, or mend the rig file", n, got, of, key, want, n, want))
	}
}

// atLeast notes a setting that is less than what a key of the rig file needs.
func (c *comparison) atLeast(n int, want float64, of, key string) {
	if got := c.set[n]; got < want*(1-settingShare) {
		c.out = append(c.out, fmt.Sprintf("$%d is %.3f %s and the rig file's %s need %.3f: type $%d=%.3f, or mend the rig file", n, got, of, key, want, n, want))
	}
}

// must notes a setting that is not as it must be.
func (c *comparison) must(n int, isRight bool, why, value string) {
	if !isRight {
		c.out = append(c.out, fmt.Sprintf("$%d is %g: %s; type $%d=%s", n, c.set[n], why, n, value))
	}
}

// planner is how the controller plans motion.
func (s settings) planner(blocks int) planner {
	p := planner{junction: s[setJunction] / 1e3, blocks: blocks}
	for i := range p.rate {
		p.rate[i], p.accel[i] = s[setRate+i]/perMinute, s[setAccel+i]/1e3
	}
	return p
}
