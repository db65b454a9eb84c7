// SPDX-License-Identifier: Apache-2.0

package firmware

import (
	"fmt"
	"strings"

	"boardhand/internal/gantry/firmware/blocks"
	"boardhand/internal/gantry/firmware/modal"
	"boardhand/internal/gantry/firmware/settings"
)

// reporting is what reports remember: the overrides, per cent, and how many came.
type reporting struct {
	feed, rapid int
	count       int
}

// report answers a question mark; while homing there is no answer.
func (f *Firmware) report() {
	if f.state == homes {
		return
	}
	mask := int(f.set[settings.ReportMask])
	at, name, offset := f.at, "MPos", f.modal.Offset()
	if mask&1 == 0 {
		name = "WPos"
		at = at.Plus(offset, -1)
	}
	fields := []string{f.stateText(), name + ":" + f.triple(at)}
	if mask&2 != 0 {
		fields = append(fields, fmt.Sprintf("Bf:%d,%d", blocks.Capacity-f.queue.Len(), receiveSize-len(f.wire.buffer)))
	}
	fields = append(fields, fmt.Sprintf("FS:%.0f,%.0f", f.queue.Speed()*60, max(f.turning(), -f.turning())))
	if pins := f.pins(); pins != "" {
		fields = append(fields, "Pn:"+pins)
	}
	switch f.ask.count % offsetsEach {
	case 0:
		fields = append(fields, "WCO:"+f.triple(offset))
	case 1:
		fields = append(fields, f.overrides()...)
	}
	f.ask.count++
	f.say("<" + strings.Join(fields, "|") + ">")
}

// stateText is the state with its number after the colon.
func (f *Firmware) stateText() string {
	moving := map[bool]int{false: 0, true: 1}[f.queue.Speed() > 0]
	switch f.state {
	case held:
		return fmt.Sprintf("Hold:%d", moving)
	case door:
		return fmt.Sprintf("Door:%d", 2*moving)
	}
	return string(f.state)
}

// pins are the axes whose switches are closed.
func (f *Firmware) pins() (s string) {
	for i, c := range "XYZ" {
		if f.axes.IsClosed(i) {
			s += string(c)
		}
	}
	return s
}

// overrides are the overrides and what runs besides the axes.
func (f *Firmware) overrides() []string {
	out := []string{fmt.Sprintf("Ov:%d,%d,100", f.ask.feed, f.ask.rapid)}
	on := ""
	if v := f.turning(); v > 0 {
		on = "S"
	} else if v < 0 {
		on = "C"
	}
	if f.modal.Flood {
		on += "F"
	}
	if on != "" {
		out = append(out, "A:"+on)
	}
	return out
}

// triple prints a place, in inches when the settings say so.
func (f *Firmware) triple(v blocks.Vector) string {
	form, k := "%.3f", 1.0
	if f.set.Is(settings.Inches) {
		form, k = "%.4f", 1/25.4
	}
	var s [blocks.Axes]string
	for i := range v {
		s[i] = fmt.Sprintf(form, v[i]*k)
	}
	return strings.Join(s[:], ",")
}

// modes are the modes of the parser, $G.
func (f *Firmware) modes() string {
	m := &f.modal
	on := func(is bool, yes, no string) string {
		if is {
			return yes
		}
		return no
	}
	return fmt.Sprintf("[GC:G%d G%d G%d %s %s %s M%d %s T0 F%.0f S%.0f]", m.Motion/10, 54+m.System, m.Plane/10, on(m.Inches, "G20", "G21"),
		on(m.Incremental, "G91", "G90"), on(m.Inverse, "G93", "G94"), m.Direction, on(m.Flood, "M8", "M9"), m.Feed, m.Speed)
}

// parameters are the offsets, $#.
func (f *Firmware) parameters() []string {
	m := &f.modal
	var out []string
	for i, v := range m.Systems {
		out = append(out, fmt.Sprintf("[G%d:%s]", 54+i, f.triple(v)))
	}
	return append(out, "[G28:"+f.triple(m.Stored[0])+"]", "[G30:"+f.triple(m.Stored[1])+"]", "[G92:"+f.triple(m.Shift)+"]",
		"[TLO:0.000]", "[PRB:"+f.triple(modal.State{}.At)+":0]")
}
