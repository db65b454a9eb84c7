// SPDX-License-Identifier: Apache-2.0

package diagnosis

// Causes lists all causes.
func Causes() []Cause {
	return []Cause{DriveMagnetWeak, MagnetFlipped, MagnetMissing, MagnetOffCentre, BaseTooWide, LiftStaysUp,
		LiftStaysDown, NothingFollows, AxisOverdriven, AxesOutOfSquare, AxesScaleWrong, PlaceShifted, StickyPlace, StickyBoard,
		CameraFrozen, CameraDropping}
}
