// SPDX-License-Identifier: Apache-2.0

package propose

import (
	"fmt"
	"strconv"
	"strings"

	"boardhand/internal/assess"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// quoted writes a quantity as it stands in a file.
func quoted(v fmt.Stringer) string { return strconv.Quote(v.String()) }

func plain(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// written lists every key that a part of a stock may change, as a rig has it.
func written(r *rig.Rig) []assess.Setting {
	b, l, m := r.Board, r.Lift, r.Pieces.Magnet
	out := []assess.Setting{
		{Key: "board.square", Value: quoted(b.Square)}, {Key: "board.rim", Value: quoted(b.Rim)}, {Key: "board.thickness", Value: quoted(b.Thickness)},
		{Key: "board.warp", Value: quoted(b.Warp)}, {Key: "board.friction", Value: plain(b.Friction)}, {Key: "board.kinetic", Value: plain(b.Kinetic)},
		{Key: "lift.diameter", Value: quoted(l.Diameter)}, {Key: "lift.thickness", Value: quoted(l.Thickness)}, {Key: "lift.grade", Value: strconv.Quote(l.Grade)},
		{Key: "pieces.magnet.diameter", Value: quoted(m.Diameter)}, {Key: "pieces.magnet.thickness", Value: quoted(m.Thickness)},
		{Key: "pieces.magnet.grade", Value: strconv.Quote(m.Grade)},
		{Key: "camera.height", Value: quoted(r.Camera.Height)}, {Key: "lift.drop", Value: quoted(l.Drop)},
		{Key: "power.voltage", Value: quoted(r.Power.Voltage)}, {Key: "power.current", Value: quoted(r.Power.Current)},
		{Key: "walls.left", Value: quoted(r.Walls.Left)}, {Key: "walls.right", Value: quoted(r.Walls.Right)},
		{Key: "walls.front", Value: quoted(r.Walls.Front)}, {Key: "walls.back", Value: quoted(r.Walls.Back)},
	}
	out = append(out, eyeWritten(r.Camera)...)
	for i, c := range r.Cables {
		out = append(out, assess.Setting{Key: fmt.Sprintf("cable.%d.owned", i), Value: lengths(c.Owned)})
	}
	for _, k := range r.Pieces.Kinds().All() {
		piece, key := r.Pieces.Of(k), "pieces."+r.Pieces.Kinds().Key(k)
		out = append(out, assess.Setting{Key: key + ".base", Value: quoted(piece.Base)}, assess.Setting{Key: key + ".mass", Value: quoted(piece.Mass)})
	}
	return append(append(out, axisWritten("axis.x.", r.Axis.X)...), axisWritten("axis.y.", r.Axis.Y)...)
}

// eyeWritten are the camera's keys that a lens changes, with the one angle that its file has.
func eyeWritten(c rig.Camera) []assess.Setting {
	angle := assess.Setting{Key: "camera.hfov", Value: quoted(c.HFOV)}
	if c.DFOV > 0 {
		angle = assess.Setting{Key: "camera.dfov", Value: quoted(c.DFOV)}
	}
	return []assess.Setting{{Key: "camera.image", Value: fmt.Sprintf("[%d, %d]", c.Image[0], c.Image[1])}, angle, {Key: "camera.focal", Value: quoted(c.Focal)},
		{Key: "camera.stop", Value: plain(c.Stop)}, {Key: "camera.focus", Value: quoted(c.Focus)}}
}

// lengths are a list of a file.
func lengths(all []unit.Length) string {
	var out []string
	for _, l := range all {
		out = append(out, quoted(l))
	}
	return "[" + strings.Join(out, ", ") + "]"
}

func axisWritten(key string, a rig.Axis) []assess.Setting {
	m := a.Motor
	out := []assess.Setting{
		{Key: "drive", Value: strconv.Quote(a.Drive)}, {Key: "module", Value: quoted(a.Module)}, {Key: "pitch", Value: quoted(a.Pitch)},
		{Key: "lead", Value: quoted(a.Lead)}, {Key: "teeth", Value: strconv.Itoa(a.Teeth)}, {Key: "efficiency", Value: plain(a.Efficiency)},
		{Key: "backlash", Value: quoted(a.Backlash)}, {Key: "speed", Value: quoted(a.Speed)},
		{Key: "acceleration", Value: quoted(a.Acceleration)}, {Key: "jerk", Value: quoted(a.Jerk)}, {Key: "travel", Value: quoted(a.Travel)}, {Key: "origin", Value: quoted(a.Origin)},
		{Key: "motor.kind", Value: strconv.Quote(m.Kind)}, {Key: "motor.stall_torque", Value: quoted(m.StallTorque)},
		{Key: "motor.free_speed", Value: quoted(m.FreeSpeed)}, {Key: "motor.counts", Value: strconv.Itoa(m.Counts)},
		{Key: "motor.gearing", Value: plain(m.Gearing)}, {Key: "motor.voltage", Value: quoted(m.Voltage)},
		{Key: "motor.current", Value: quoted(m.Current)}, {Key: "motor.inductance", Value: quoted(m.Inductance)},
		{Key: "motor.full_steps", Value: strconv.Itoa(m.FullSteps)},
	}
	for i := range out {
		out[i].Key = key + out[i].Key
	}
	return out
}

// differing lists the keys that differ, with the values of now. What a drive
// or motor of another kind does not use is left standing in the file.
func differing(was, now *rig.Rig) []assess.Setting {
	var out []assess.Setting
	before := written(was)
	for i, s := range written(now) {
		unused := s.Key[:2] == "ax" && (s.Value == "0" || s.Value == `"0 mH"`)
		if s != before[i] && !unused {
			out = append(out, s)
		}
	}
	return out
}

// Write puts settings into the text of a rig file, notes kept.
func Write(text string, set []assess.Setting) (string, error) {
	var err error
	for _, s := range set {
		if text, err = rig.Patch(text, s.Key, s.Value); err != nil {
			return "", fmt.Errorf("%s: %w", s.Key, err)
		}
	}
	return text, nil
}
