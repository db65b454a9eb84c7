// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"errors"
	"fmt"

	"boardhand/internal/motion"
)

// refusals say why the controller refused a line, and what to do. Source of the
// numbers: the firmware's published interface description.
var refusals = map[int]string{
	1:  "a word had no letter: the wire loses characters; use a shorter, shielded cable",
	2:  "a number could not be read: the wire loses characters; use a shorter, shielded cable",
	3:  "it does not know a $ command: install version 1.1 of its firmware",
	4:  "a number was negative where none may be: check the settings that it lists for $$",
	5:  "homing is switched off: fit switches at the low ends of the axes and type $22=1",
	6:  "the step pulse is too short: type $0=10",
	7:  "its stored settings were damaged and are back at their defaults: set $100 to $132 anew",
	8:  "it is not at rest: wait until it stands, then home",
	9:  "it is locked: home it",
	10: "soft limits need homing: type $22=1",
	11: "a line was too long for it: install its firmware with the usual line length",
	12: "an axis would need more steps a second than it makes: lower the axis' speed or its microsteps",
	13: "its safety door is open: close the door, then home",
	14: "a stored line is too long: erase the stored lines with $N0= and $N1=",
	15: "a jog would leave the travel: check $130 to $132",
	16: "a jog was not understood: install version 1.1 of its firmware",
	17: "laser mode needs a spindle with PWM: type $32=0",
	20: "it does not know a word: install version 1.1 of its firmware",
	21: "two words of one group stood on a line: the wire loses line ends; use a shorter, shielded cable",
	22: "a feed rate was missing: the wire loses characters; use a shorter, shielded cable",
	23: "a whole number was expected: the wire loses characters; use a shorter, shielded cable",
	24: "two words on a line wanted the axes: the wire loses line ends; use a shorter, shielded cable",
	25: "a word stood twice on a line: the wire loses line ends; use a shorter, shielded cable",
	26: "a motion had no axis words: the wire loses characters; use a shorter, shielded cable",
	27: "a line number was out of range: the wire loses characters; use a shorter, shielded cable",
	28: "a word lacked its value: the wire loses characters; use a shorter, shielded cable",
	29: "it has six work coordinate systems only: the wire loses characters; use a shorter, shielded cable",
	30: "machine coordinates need G0 or G1: the wire loses characters; use a shorter, shielded cable",
	31: "axis words stood where none are used: the wire loses line ends; use a shorter, shielded cable",
	32: "an arc lacked an axis of its plane: the wire changes characters; use a shorter, shielded cable",
	33: "a coordinate was not what was sent: the wire changes characters; use a shorter, shielded cable",
	34: "an arc's radius was not possible: the wire changes characters; use a shorter, shielded cable",
	35: "an arc lacked its offsets: the wire changes characters; use a shorter, shielded cable",
	36: "words on a line were not used: the wire loses line ends; use a shorter, shielded cable",
	37: "a tool length is given for another axis than the firmware was built for: type G49 there",
	38: "a tool number was too large: the wire changes characters; use a shorter, shielded cable",
}

// alarms say why the controller locked itself, and what to do.
var alarms = map[int]string{
	1:  "a limit switch was hit, and the position is lost: look for what pushed the carriage there, free the switch, then home",
	2:  "a target lay beyond the travel: make $130 to $132 and the travel of the rig file agree, then home",
	3:  "it was reset while it moved, and may have lost steps: home it",
	4:  "the probe was touching before it was used: unplug the probe, then home",
	5:  "the probe touched nothing: unplug the probe, then home",
	6:  "homing was broken off by a reset: home again",
	7:  "the safety door opened while homing: close the door, then home again",
	8:  "backing off did not free the switch: raise $27, or look for a switch that sticks, then home again",
	9:  "no switch was found: check the switches' leads, the homing direction ($23) and the travel ($130 to $132), then home again",
	10: "the second switch of a doubled axis was not found: check its leads, then home again",
}

// Refusal is a line that the controller refused.
type Refusal struct {
	Line   string
	Number int
}

// Error says what to do.
func (r *Refusal) Error() string {
	why, ok := refusals[r.Number]
	if !ok {
		why = "that number is in no list of version 1.1: look it up in the description of the controller's firmware"
	}
	return fmt.Sprintf("the controller refused %q (error %d): %s", r.Line, r.Number, why)
}

// Alarm is that the controller locked itself.
type Alarm struct{ Number int }

// Error says what to do.
func (a *Alarm) Error() string {
	why, ok := alarms[a.Number]
	if !ok {
		why = "that number is in no list of version 1.1: look it up in the description of the controller's firmware, then home"
	}
	return fmt.Sprintf("the controller locked itself (alarm %d): %s", a.Number, why)
}

// errSilent is that no banner came.
var errSilent error = &motion.Gone{Why: errors.New("the controller does not say what it is: check its supply, the cable, controller.port and controller.baud (115200 as a rule)")}

// errWire is that the wire itself broke.
func errWire(err error) error {
	return &motion.Gone{Why: fmt.Errorf("the wire to the controller broke (%w): plug it in, then home", err)}
}
