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
	WeakMagnet   Fault = "weak_magnet"   // the drive magnet has lost most of its strength
	Fast         Fault = "fast"          // the axes run and ramp four times faster than told
	WideFoot     Fault = "wide_foot"     // the men's feet are far wider than the rig file says
	Slip         Fault = "slip"          // now and then a man catches on a sticky patch and is left behind
	BumpCamera   Fault = "bump_camera"   // somebody knocks against the camera
	CameraDrop   Fault = "camera_drop"   // some pictures do not arrive
	SloppyGuest  Fault = "sloppy_guest"  // the guest puts men down carelessly and sets them straight later
	IllegalGuest Fault = "illegal_guest" // the guest sometimes makes a move that no rule allows
	HalfMove     Fault = "half_move"     // the guest takes the hand away in the middle of a move
	LightChange  Fault = "light_change"  // a lamp is switched, a cloud passes
	SecondMind   Fault = "second_mind"   // the guest now and then wishes a move taken back
)

// Faults lists all faults by name.
func Faults() []Fault {
	return []Fault{WeakMagnet, Fast, WideFoot, Slip, BumpCamera, CameraDrop, SloppyGuest, IllegalGuest, HalfMove, LightChange, SecondMind}
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

type faultSet map[Fault]bool

func newFaultSet(list []Fault) (faultSet, error) {
	set := faultSet{}
	for _, f := range list {
		if !slices.Contains(Faults(), f) {
			return nil, fmt.Errorf("%q is not a fault; these are: %v", f, Faults())
		}
		set[f] = true
	}
	return set, nil
}

// How strong the faults are.
const (
	weakShare   = 0.06  // of the drive magnet's remanence left: overheated while it was glued
	fastShare   = 4.0   // of the speed and acceleration told
	secondShare = 0.12  // of the machine's moves are followed by the wish to take them back
	wideShare   = 1.9   // of the foot's nominal diameter: a card foot cut from the wrong template …
	widestFoot  = 0.92  // … but never more of a square
	stickyShare = 0.35  // of the strokes with a man meet a sticky patch
	stickyHold  = 1.0   // N, there: a drop of something sweet
	stickyReach = 0.012 // m
)
