// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"slices"

	"boardhand/internal/game"
)

// limit is the range that a value must lie in, as a maker would write it.
// The ranges are those the formulas are checked for (magnets, optics) or what
// a table-top machine can be (common practice, no source).
type limit struct{ lo, hi string }

var limits = map[string]limit{
	"board.square":           {"15 mm", "80 mm"},
	"board.files":            {"2", "8"},
	"board.ranks":            {"2", "8"},
	"board.border":           {"0 mm", "100 mm"},
	"board.thickness":        {"0.5 mm", "30 mm"},
	"board.rim":              {"0 mm", "300 mm"},
	"board.mass":             {"1 g", "20 kg"},
	"board.steel":            {"0.3 mm", "100 mm"},
	"board.warp":             {"0 mm", "5 mm"},
	"board.friction":         {"0.05", "1.5"},
	"board.kinetic":          {"0.03", "1.5"},
	"pieces.*.height":        {"5 mm", "150 mm"},
	"pieces.*.base":          {"4 mm", "60 mm"},
	"pieces.*.mass":          {"0.5 g", "300 g"},
	"pieces.*.top":           {"4 mm", "80 mm"},
	"pieces.*.balance":       {"0.05", "0.9"},
	"pieces.count":           {"1", "32"},
	"pieces.magnet.diameter": {"1 mm", "40 mm"}, "pieces.magnet.thickness": {"0.5 mm", "30 mm"},
	"pieces.magnet.recess": {"0 mm", "10 mm"},
	"lift.diameter":        {"2 mm", "60 mm"},
	"lift.thickness":       {"0.5 mm", "60 mm"},
	"lift.air":             {"0 mm", "10 mm"},
	"lift.drop":            {"1 mm", "80 mm"},
	"lift.spring":          {"0 N/mm", "20 N/mm"},
	"lift.preload":         {"0 N", "50 N"},
	"lift.speed":           {"1 mm/s", "500 mm/s"},
	"lift.steel":           {"0.3 mm", "100 mm"},
	"lift.force":           {"0.1 N", "500 N"},
	"lift.current":         {"0.01 A", "20 A"},
	"lift.friction":        {"0 ", "1.5"},
	"lift.switches":        {"0", "2"},
	"axis.*.module":        {"0.2 mm", "4 mm"},
	"axis.*.pitch":         {"1 mm", "15 mm"},
	"axis.*.lead":          {"0.5 mm", "100 mm"},
	"axis.*.teeth":         {"6", "200"},
	"axis.*.efficiency":    {"0.05", "1"},
	"axis.*.travel":        {"50 mm", "2000 mm"},
	"axis.*.origin":        {"0 mm", "2000 mm"},
	"axis.*.speed":         {"1 mm/s", "2000 mm/s"},
	"axis.*.acceleration":  {"5 mm/s2", "20000 mm/s2"},
	"axis.*.jerk":          {"10 mm/s3", "1000000 mm/s3"},
	"axis.*.backlash":      {"0 mm", "10 mm"},
	"axis.*.moved":         {"1 g", "20 kg"},
	"axis.*.friction":      {"0 N", "100 N"},
	"axis.*.guide":         {"5 mm", "2000 mm"},
	"axis.*.clearance":     {"0 mm", "5 mm"},
	"axis.*.rows":          {"1", "4"},
	"axis.*.switches":      {"0", "2"},

	"axis.*.rails.at":           {"-2000 mm", "2000 mm"},
	"axis.*.rails.length":       {"20 mm", "3000 mm"},
	"axis.*.rails.diameter":     {"2 mm", "40 mm"},
	"axis.*.rails.height":       {"1 mm", "1000 mm"},
	"axis.*.rails.drive_at":     {"-2000 mm", "2000 mm"},
	"axis.*.rails.drive_length": {"20 mm", "3000 mm"},
	"axis.*.rails.drive_height": {"1 mm", "1000 mm"},
	"axis.*.motor.at":           {"-2000 mm", "2000 mm"}, "axis.*.motor.body": {"2 mm", "300 mm"},
	"lift.motor.at": {"-2000 mm", "2000 mm"}, "lift.motor.body": {"2 mm", "300 mm"},

	"axis.*.motor.stall_torque": {"0.001 N·m", "50 N·m"},
	"axis.*.motor.free_speed":   {"1 rpm", "30000 rpm"},
	"axis.*.motor.counts":       {"1", "1000000"},
	"axis.*.motor.gearing":      {"0.01", "1000"},
	"axis.*.motor.voltage":      {"1 V", "60 V"},
	"axis.*.motor.current":      {"0.01 A", "50 A"},
	"axis.*.motor.inductance":   {"0.01 mH", "1000 mH"},
	"axis.*.motor.full_steps":   {"4", "1000"},
	"axis.*.motor.resistance":   {"0.05 Ω", "1000 Ω"},
	"axis.*.motor.inertia":      {"0.01 g·cm2", "100000 g·cm2"},
	"axis.*.motor.gearbox":      {"1", "1000"},

	"carriage.mass": {"1 g", "20 kg"}, "carriage.left": {"1 mm", "500 mm"},
	"carriage.right": {"1 mm", "500 mm"}, "carriage.front": {"1 mm", "500 mm"},
	"carriage.back": {"1 mm", "500 mm"}, "carriage.height": {"1 mm", "500 mm"},
	"walls.left": {"20 mm", "2000 mm"}, "walls.right": {"20 mm", "2000 mm"},
	"walls.front": {"20 mm", "2000 mm"}, "walls.back": {"20 mm", "2000 mm"},
	"walls.height": {"5 mm", "1000 mm"}, "walls.thick": {"0.5 mm", "50 mm"},
	"walls.owned": {"0", "100000"},

	"camera.hfov":          {"20 deg", "120 deg"},
	"camera.dfov":          {"20 deg", "170 deg"},
	"camera.focal":         {"0.5 mm", "50 mm"},
	"camera.stop":          {"0.7", "32"},
	"camera.focus":         {"30 mm", "100 m"},
	"camera.height":        {"150 mm", "3000 mm"},
	"controller.baud":      {"1200", "4000000"},
	"controller.ports":     {"1", "64"},
	"controller.lift_up":   {"1", "100000"},
	"controller.lift_down": {"0", "100000"},
	"controller.settle":    {"0 s", "5 s"},
	"cable.route":          {"0 mm", "5000 mm"},
	"cable.slack":          {"0 mm", "2000 mm"},
	"power.voltage":        {"1 V", "60 V"},
	"power.current":        {"0.05 A", "100 A"},
	"power.logic":          {"0 A", "50 A"},
	"power.motors":         {"1 V", "60 V"},
	"removal.slots":        {"1", "32"},
	"removal.gap":          {"5 mm", "300 mm"},
	"play.time":            {"0.01 s", "600 s"},

	"tolerance.placement.within": {"0 mm", "10 mm"}, "tolerance.camera.within": {"0 mm", "10 mm"}, "tolerance.person.within": {"0 mm", "20 mm"},
	"tolerance.glue.within": {"0 mm", "5 mm"}, "tolerance.base.within": {"0 mm", "5 mm"}, "tolerance.gap.within": {"0 mm", "3 mm"},
	"tolerance.field.within": {"0 mm", "20 mm"}, "tolerance.hang.within": {"0 mm", "200 mm"},
	"tolerance.mass.within":      {"0 ", "0.5"},
	"tolerance.friction.within":  {"0 ", "0.5"},
	"tolerance.pads.within":      {"0 ", "0.5"},
	"tolerance.remanence.within": {"0 ", "0.5"},
	"tolerance.discs.within":     {"0 ", "0.5"},
	"tolerance.model.within":     {"0 ", "0.5"},
	"tolerance.spring.within":    {"0 ", "0.5"},
	"tolerance.motor.within":     {"0 ", "0.5"},
}

// words are the keys that take one of a few words.
var words = map[string][]string{
	"board.held":        {"walls", "ledge", "fastened"},
	"pieces.carried":    {"black", "white", "both"},
	"axis.*.drive":      {"rack", "belt", "screw"},
	"axis.*.motor.kind": {"dc", "stepper"},
	"walls.material":    {"brick", "panel"},
	"camera.white_side": {"bottom", "left", "top", "right"},
	"cable.from":        {"wall", "controller"},
	"cable.to":          {"x", "y", "lift", "magnet", "chute", "x switch", "y switch", "lift switch", "camera", "supply"},
	"controller.kind":   {"twin", "gcode", "tacho"},
	"controller.lift":   {"axis", "spindle", "coolant"},
	"removal.mode":      {"hand", "tray", "chute"},
	"play.side":         {"black", "white"},
	"play.strength":     {"chalk", "charcoal", "crayon", "pencil", "quill", "pen", "needle"},
	"tolerance.*.shape": {"normal", "uniform", "triangular"},
}

// Part names the keys that a command cannot do without, with these kinds of pieces.
type Part func(*game.Kinds) []string

// Watching needs nothing but the size of a square: all else that the eye needs can be found in
// the first picture, less surely.
func Watching(*game.Kinds) []string { return []string{"board.square"} }

// seeing is what the camera and the eye need of a machine: nothing is found, all is said.
func seeing(kinds *game.Kinds) []string {
	return append([]string{
		"board.square", "board.border",
		"camera.image", "camera.hfov", "camera.height", "camera.white_side",
	}, each("pieces.", kinds.Keys(), ".height", ".base")...)
}

// Machine is everything that the machine needs to move pieces.
func Machine(kinds *game.Kinds) []string {
	return slices.Concat([]string{
		"board.thickness", "board.warp", "board.friction", "pieces.carried",
		"pieces.magnet.diameter", "pieces.magnet.thickness", "pieces.magnet.grade", "pieces.magnet.recess",
		"lift.diameter", "lift.thickness", "lift.grade", "lift.air", "lift.drop", "lift.spring", "lift.preload",
		"carriage.mass", "carriage.left", "carriage.right", "carriage.front", "carriage.back",
		"walls.left", "walls.right", "walls.front", "walls.back",
		"camera.source", "controller.kind", "removal.mode", "play.side",
	}, seeing(kinds), each("pieces.", kinds.Keys(), ".mass"),
		each("axis.", []string{"x", "y"}, ".drive", ".travel", ".speed", ".acceleration", ".backlash",
			".motor.stall_torque", ".motor.free_speed", ".motor.counts", ".motor.gearing"))
}

func each(prefix string, names []string, suffixes ...string) (keys []string) {
	for _, n := range names {
		for _, s := range suffixes {
			keys = append(keys, prefix+n+s)
		}
	}
	return keys
}
