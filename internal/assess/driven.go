// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"

	"boardhand/internal/rig"
)

// twin is the controller and the camera that this version drives.
const twin = "twin"

// driven are the checks of what this version can play on. They steer no search
// for parts: no part mends them, and the machine is to be built all the same.
func driven(r *rig.Rig) []Check {
	return []Check{judgeController(r.Controller), judgeSource(r.Camera.Source)}
}

// judgeController says whether play can drive the controller.
func judgeController(k rig.Controller) Check {
	c := Check{ID: "controller.kind", Title: "Controller that this version drives", Unit: "controllers",
		Formula: "settings that play refuses", Source: "this program", Range: "this version",
		Explain: "play drives the twin, the simulated table, and the motors of a gcode controller, which then do what the twin's carriage does; what would run the motors of a tacho controller is not there yet. All other lines hold for the machine with its real controller; with the twin in its place the same rig can be played and rehearsed."}
	if k.Kind == twin || k.Kind == "gcode" {
		return c.isDriven("controller.kind", k.Kind)
	}
	return c.refused("controller.kind", fmt.Sprintf("controller.kind is %q: this version does not drive such motors", k.Kind))
}

// judgeSource says whether play can take pictures from the camera.
func judgeSource(source string) Check {
	c := Check{ID: "camera.source", Title: "Camera that this version plays with", Unit: "cameras",
		Formula: "settings that play refuses", Source: "this program", Range: "this version",
		Explain: "play takes its pictures from the twin so far. Pictures of a real camera, from a folder or as motion JPEG over the network, are read by watch."}
	if source == twin {
		return c.isDriven("camera.source", twin)
	}
	return c.refused("camera.source", fmt.Sprintf("camera.source is %q: play takes no pictures from there yet; watch --frames reads a folder or a motion JPEG camera", source))
}

func (c Check) isDriven(key, value string) Check {
	return c.passed(fmt.Sprintf("%s is %q", key, value))
}

// refused is the line of a setting that play refuses.
func (c Check) refused(key, why string) Check {
	c = c.atMost(1, 0, 0)
	c.Why = why
	c.Fixes = []Fix{{Set: []Setting{{key, `"` + twin + `"`}}, Effect: "plays and rehearses on the simulated table until hardware is driven"}}
	c.Change = c.advice()
	return c
}
