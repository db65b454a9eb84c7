// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"
	"strings"

	"boardhand/internal/rig"
)

// twin is the controller and the camera that this version drives.
const twin = "twin"

// driven are the checks of what this version can play on. They steer no search
// for parts: no part mends them, and the machine is to be built all the same.
func driven(r *rig.Rig) []Check {
	return []Check{judgeController(r.Controller), judgeSource(r)}
}

// judgeController says whether play can drive the controller.
func judgeController(k rig.Controller) Check {
	c := Check{ID: "controller.kind", Title: "Controller that this version drives", Unit: "controllers",
		Formula: "settings that play refuses", Source: "this program", Range: "this version",
		Explain: "play drives the twin, the simulated table, and the motors of a gcode or tacho controller: with a real camera in a real game, with the twin's camera beside the twin's carriage. All other lines hold for the machine with its real controller; with the twin in its place the same rig can be played and rehearsed."}
	if k.Kind == "tacho" {
		for _, axis := range []string{"x", "y", "lift"} {
			if k.Motor[axis] == "" {
				return refused(c, "controller.kind", fmt.Sprintf("controller.kind is %q and controller.motor.%s names no port", k.Kind, axis))
			}
		}
	}
	return isDriven(c, "controller.kind", k.Kind)
}

// judgeSource says whether play can take pictures from the camera.
func judgeSource(r *rig.Rig) Check {
	source := r.Camera.Source
	c := Check{ID: "camera.source", Title: "Camera that this version plays with", Unit: "cameras",
		Formula: "settings that play refuses", Source: "this program", Range: "this version",
		Explain: "play takes its pictures from the twin, or, with a controller that is driven, from a camera on this computer or one that serves motion JPEG. A real camera does not see the simulated carriage, and a folder does not show what the machine does: watch reads those."}
	switch {
	case source == twin:
	case strings.HasPrefix(source, "folder:"):
		return refused(c, "camera.source", fmt.Sprintf("camera.source is %q: play wants a camera; watch --frames reads a folder", source))
	case r.Controller.Kind == twin:
		return refused(c, "camera.source", fmt.Sprintf("camera.source is %q, but controller.kind is %q: a real camera does not see the simulated carriage; watch --frames reads games that people play", source, twin))
	}
	return isDriven(c, "camera.source", source)
}

func isDriven(c Check, key, value string) Check {
	return c.Passed(fmt.Sprintf("%s is %q", key, value))
}

// refused is the line of a setting that play refuses.
func refused(c Check, key, why string) Check {
	c = c.AtMost(1, 0, 0)
	c.Why = why
	c.Fixes = []Fix{{Set: []Setting{{Key: key, Value: `"` + twin + `"`}}, Effect: "plays and rehearses on the simulated table until hardware is driven"}}
	c.Change = c.Told()
	return c
}
