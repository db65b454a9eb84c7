// SPDX-License-Identifier: Apache-2.0

package diagnosis

// Causes lists all causes.
func Causes() []Cause {
	return []Cause{DriveMagnetWeak, MagnetFlipped, MagnetMissing, MagnetOffCentre, BaseTooWide, LiftStaysUp,
		LiftStaysDown, NothingFollows, AxisOverdriven, AxesOutOfSquare, AxesScaleWrong, PlaceShifted, StickyPlace, StickyBoard,
		CameraFrozen, CameraDropping, ControllerWire}
}

// wires are worlds in which the wire to the controller spoils what goes over it.
func wires() []world {
	return []world{
		{ControllerWire, 100, func(s *stream) func() Symptom {
			return func() Symptom {
				if s.rnd.Float64() < 0.1 {
					return Symptom{Act: Carry, Outcome: BrokenOff}
				}
				return s.carry()
			}
		}},
	}
}
