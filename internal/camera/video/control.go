// SPDX-License-Identifier: Apache-2.0

package video

import (
	"errors"
	"fmt"
)

// control is one thing of a camera that can be set.
type control struct {
	id   uint32
	name string // in our words
}

// automatic is what a camera regulates by itself, and what it sets when it does.
type automatic struct {
	switched control
	off      []uint32 // values that switch it off, the best first
	sets     control
}

// Numbers of controls: linux/v4l2-controls.h.
var (
	automatics = []automatic{
		{control{0x009a0901, "exposure"}, []uint32{1, 2}, control{0x009a0902, "exposure time"}}, // manual, shutter priority
		{control{0x0098090c, "white balance"}, []uint32{0}, control{0x0098091a, "colour temperature"}},
		{control{0x009a090c, "focus"}, []uint32{0}, control{0x009a090a, "focus distance"}},
		{control{0x00980912, "gain"}, []uint32{0}, control{0x00980913, "gain"}},
	}
	// slowing lets a camera take fewer pictures in the dark; at rest it may.
	slowing = control{0x009a0903, "slower pictures in the dark"}
)

// Hold stops what the camera regulates by itself, at the values that it has found
// so far: call it when some seconds of pictures have been taken. What is held now
// and what the driver refuses is told by Told.
func (d *Device) Hold() error {
	for _, a := range automatics {
		is, err := d.hold(a)
		if err != nil {
			return err
		}
		if is {
			d.Held = append(d.Held, a.switched.name)
		}
	}
	if d.has(slowing.id) {
		if err := d.set(slowing.id, 0); errors.Is(err, errGone) {
			return err
		}
	}
	return nil
}

// hold stops one of them; false when the camera has no such thing or refuses.
func (d *Device) hold(a automatic) (bool, error) {
	if !d.has(a.switched.id) {
		return false, nil
	}
	found, known := d.get(a.sets.id)
	err := errNotTaken
	for _, off := range a.off {
		if err = d.set(a.switched.id, off); err == nil || errors.Is(err, errGone) {
			break
		}
	}
	if errors.Is(err, errGone) {
		return false, err
	}
	if err != nil {
		d.Refused = append(d.Refused, fmt.Sprintf("it goes on regulating its %s by itself", a.switched.name))
		return false, nil
	}
	if !known { // it keeps what it had last, which nobody knows
		return true, nil
	}
	if err := d.set(a.sets.id, found); errors.Is(err, errGone) {
		return false, err
	} else if err != nil {
		d.Refused = append(d.Refused, fmt.Sprintf("its %s cannot be set to the %d that it had found", a.sets.name, found))
	}
	return true, nil
}

// has says whether a camera has a control and it is not switched off for good.
func (d *Device) has(id uint32) bool {
	m := make(message, querySize)
	m.put(0, id)
	return d.pass(queryControl, m) == nil && m.at(queryFlags)&controlDisabled == 0
}

func (d *Device) get(id uint32) (uint32, bool) {
	m := make(message, controlSize)
	m.put(0, id)
	if !d.has(id) || d.pass(getControl, m) != nil {
		return 0, false
	}
	return m.at(4), true
}

func (d *Device) set(id, v uint32) error {
	m := make(message, controlSize)
	m.put(0, id)
	m.put(4, v)
	return d.pass(setControl, m)
}
