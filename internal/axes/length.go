// SPDX-License-Identifier: Apache-2.0

package axes

import (
	"math"

	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// RackTeeth is how many teeth a rack must have so that the pinion meshes over the
// whole travel: the travel, and two teeth beyond the pinion's axis at each end. An
// involute pinion touches a rack over less than two pitches (contact ratio below 2),
// one of them to each side. 0 for another drive.
func RackTeeth(a rig.Axis) int {
	if a.Drive != "rack" || a.Module <= 0 {
		return 0
	}
	if a.Rails.DriveLength > 0 { // as the maker has it
		return int(math.Ceil(float64(a.Rails.DriveLength/toothPitch(a)) - 1e-9))
	}
	return int(math.Ceil(float64(a.Travel/toothPitch(a))-1e-9)) + 2*rackBeyond
}

// toothPitch is a rack's, from tooth to tooth: π·module.
func toothPitch(a rig.Axis) unit.Length { return math.Pi * a.Module }

// Loop is a belt around two equal pulleys whose axes stand the travel, the carriage's
// body and room for the pulleys apart.
type Loop struct {
	Apart  unit.Length // the pulleys' axes
	Closed unit.Length // whole pitches
	Open   unit.Length // clamped to both sides of the body, whole pitches
}

// BeltLoop is the belt of an axis that moves a body of that length along the axis. A
// closed belt is 2·apart + teeth·pitch long; an open one leaves the body out and is
// gripped over some teeth at each end. Exact for equal pulleys on their pitch line.
func BeltLoop(a rig.Axis, body unit.Length) Loop {
	around := unit.Length(a.Teeth) * a.Pitch
	l := Loop{Apart: a.Travel + body + around/math.Pi + 2*pulleyRoom}
	if a.Rails.DriveLength > 0 {
		l.Apart = a.Rails.DriveLength
	}
	whole := func(x unit.Length) unit.Length {
		return a.Pitch * unit.Length(math.Ceil(float64(x/a.Pitch)-1e-9))
	}
	l.Closed = whole(2*l.Apart + around)
	l.Open = whole(l.Closed - body + 2*beltGrip*a.Pitch)
	return l
}

// ScrewLength is how long the screw of an axis must be: the travel, the nut, and at
// each end room and what a bearing or a coupling holds.
func ScrewLength(a rig.Axis) unit.Length {
	if a.Rails.DriveLength > 0 {
		return a.Rails.DriveLength
	}
	return a.Travel + nutLength + 2*screwEnd
}
