// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"fmt"
	"slices"
	"strings"
)

// Fault is one thing that goes wrong in this world.
type Fault string

// The faults.
const (
	WeakMagnet      Fault = "weak_magnet"       // the drive magnet has lost most of its strength
	Fast            Fault = "fast"              // the axes run and ramp four times faster than told
	WideFoot        Fault = "wide_foot"         // the pieces' bases are far wider than the rig file says
	Slip            Fault = "slip"              // now and then a piece catches on a sticky patch and is left behind
	BumpCamera      Fault = "bump_camera"       // somebody knocks against the camera
	CameraDrop      Fault = "camera_drop"       // some pictures do not arrive
	SloppyGuest     Fault = "sloppy_guest"      // the guest puts pieces down carelessly and sets them straight later
	IllegalGuest    Fault = "illegal_guest"     // the guest sometimes makes a move that no rule allows
	HalfMove        Fault = "half_move"         // the guest takes the hand away in the middle of a move
	LightChange     Fault = "light_change"      // a lamp is switched, a cloud passes
	SecondMind      Fault = "second_mind"       // the guest now and then wishes a move taken back
	MagnetFlipped   Fault = "magnet_flipped"    // one piece's base magnet is glued in upside down
	MagnetMissing   Fault = "magnet_missing"    // one piece's base holds no magnet
	MagnetOffCentre Fault = "magnet_off_centre" // one piece's base magnet sits off the base's centre
	LiftStaysUp     Fault = "lift_stays_up"     // now and then the lift does not come down, and nothing says so
	LiftStaysDown   Fault = "lift_stays_down"   // from some moment on the lift does not go up, and nothing says so
	AxesSkewed      Fault = "axes_skewed"       // the axes are not square to each other
	AxesScaled      Fault = "axes_scaled"       // an axis goes farther, or less far, than it counts
	BodyShadow      Fault = "body_shadow"       // a person leans in and throws a broad shadow over part of the board
	LowLamp         Fault = "low_lamp"          // the lamp stands low beside the board: long hard shadows
	Glare           Fault = "glare"             // a bright reflection wanders over the board
	PictureLost     Fault = "picture_lost"      // pictures do not arrive, some in a row
	PictureFrozen   Fault = "picture_frozen"    // the camera delivers the same picture again, some times in a row
	EarlyGuest      Fault = "early_guest"       // the guest touches a piece or plays while the carriage moves
	SlotThief       Fault = "slot_thief"        // the guest takes pieces out of tray slots, or swaps their slots
)

// Faults lists all faults by name.
func Faults() []Fault {
	return []Fault{WeakMagnet, Fast, WideFoot, Slip, BumpCamera, CameraDrop, SloppyGuest, IllegalGuest, HalfMove, LightChange, SecondMind,
		MagnetFlipped, MagnetMissing, MagnetOffCentre, LiftStaysUp, LiftStaysDown, AxesSkewed, AxesScaled,
		BodyShadow, LowLamp, Glare, PictureLost, PictureFrozen, EarlyGuest, SlotThief}
}

// ParseFaults reads a list like "slip,bump_camera"; "" is none.
func ParseFaults(text string) ([]Fault, error) {
	var out []Fault
	for name := range strings.SplitSeq(text, ",") {
		if name = strings.TrimSpace(name); name != "" {
			out = append(out, Fault(name))
		}
	}
	_, err := newFaultSet(out)
	return out, err
}

// FaultNames are the names of all faults.
func FaultNames() (out []string) {
	for _, f := range Faults() {
		out = append(out, string(f))
	}
	return out
}

type faultSet map[Fault]bool

func newFaultSet(list []Fault) (faultSet, error) {
	set := faultSet{}
	for _, f := range list {
		if !slices.Contains(Faults(), f) {
			return nil, fmt.Errorf("%q is not a fault; these are: %s", f, strings.Join(FaultNames(), ", "))
		}
		set[f] = true
	}
	return set, nil
}

// Counters are what an umpire with perfect eyes would have noted.
type Counters struct {
	Collisions int // contacts between pieces that the machine caused
	Slips      int // pieces the magnet lost on the way
	Drags      int // pieces moved by the magnet that were not to move
	Stalls     int // strokes in which an axis could not follow
	Toppled    int // pieces that fell over
	Touches    int // times the piece that the magnet moved ran into a hand
	Strokes    int // strokes with the magnet raised
}
