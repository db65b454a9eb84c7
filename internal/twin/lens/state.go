// SPDX-License-Identifier: Apache-2.0

package lens

import (
	"boardhand/internal/frame"
)

// State is how the camera hangs and what light there is, for a file.
type State struct {
	Taken  int                                   `json:"taken"` // pictures
	Pose   frame.Pose[frame.Camera, frame.Board] `json:"pose"`
	Lamp   frame.Point[frame.Board]              `json:"lamp"`   // m
	Radius float64                               `json:"radius"` // of the lamp, m
	Power  float64                               `json:"power"`  // the lamp's share of the light at the field's centre
	Rest   float64                               `json:"rest"`   // share of the light from everywhere
	Warm   [3]float64                            `json:"warm"`   // colour of the lamp
}

// State copies what a later studio of the same rig and seed needs to take the
// same pictures.
func (s *Studio) State() State {
	l := s.scene.light
	return State{s.taken, s.scene.view.CameraFromBoard, l.lamp, l.radius, l.power, l.ambient, l.warm}
}

// Restore hangs the camera and the lamp as they were.
func (s *Studio) Restore(c State) {
	s.taken, s.scene.view.CameraFromBoard, s.plate = c.Taken, c.Pose, nil
	l := &s.scene.light
	l.lamp, l.radius, l.power, l.ambient, l.warm = c.Lamp, c.Radius, c.Power, c.Rest, c.Warm
	l.centre = l.falling(vec{})
}
