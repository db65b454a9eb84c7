// SPDX-License-Identifier: Apache-2.0

package conform_test

import (
	"io"
	"strings"
	"testing"
	"time"

	"boardhand/internal/gantry"
	"boardhand/internal/gantry/built"
	"boardhand/internal/gantry/clock"
	"boardhand/internal/gantry/conform"
	"boardhand/internal/gantry/firmware"
	"boardhand/internal/gantry/firmware/settings"
	"boardhand/internal/gantry/gcode"
	"boardhand/internal/gantry/wire"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// lineRig is the default rig with belts and a G-code controller.
func lineRig(t *testing.T) *rig.Rig {
	t.Helper()
	text := rig.DefaultText
	for _, c := range [][2]string{
		{`kind = "twin"               #`, "kind = \"gcode\"\nport = \"none\"\n#"}, {`drive = "rack"`, "drive = \"belt\"\npitch = \"2 mm\""},
		{"teeth = 16", "teeth = 20"}, {"module = \"1 mm\"\n", ""}, {"counts = 360 ", "counts = 3200 "}, {"counts = 360\n", "counts = 3200\n"},
	} {
		text = strings.ReplaceAll(text, c[0], c[1])
	}
	r, err := rig.Parse("rig.toml", []byte(text), rig.Machine)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// lineMachine is a machine by that rig with a controller set for it: three axes, the
// third one the lift. Soft limits are on: without them a coordinate that lost its sign
// on a bad wire drives an axis against its end, where motors that do not look lose
// their steps and nobody hears of it (TestGCodeOverABadWire).
func lineMachine(c *clock.Clock) (*firmware.Server, *built.Machine) {
	set := map[int]float64{settings.SoftLimits: 1, settings.Homing: 1, settings.HomingSide: 7, settings.HomingFeed: 100, settings.HomingSeek: 3000, settings.PullOff: 2,
		100: 80, 101: 80, 102: 400, 110: 7200, 111: 7200, 112: 2400, 120: 400, 121: 400, 122: 400, 130: 338, 131: 338, 132: 30}
	m := built.New(
		built.Axis{PerMM: 80, Length: 340, Start: 120, SwitchAt: 0.5},
		built.Axis{PerMM: 80, Length: 340, Start: 80, SwitchAt: 0.5},
		built.Axis{PerMM: 400, Length: 40, Start: 9, SwitchAt: 0.5})
	return firmware.NewServer(firmware.New(firmware.Motors{Machine: m}, firmware.Options{Settings: set}), c), m
}

// overLines is the G-code driver on a machine, opened by open.
func overLines(t *testing.T, c *clock.Clock, m *built.Machine, open func() (io.ReadWriteCloser, error)) *conform.Subject {
	r := lineRig(t)
	g, err := gcode.New(r, open, func(said string) { t.Log("said:", said) })
	if err != nil {
		t.Fatal(err)
	}
	const least, drop = 2.5, 20.0 // where homing leaves each axis, and the rig's drop, mm
	return &conform.Subject{
		Gantry: g, Holder: g, Clock: c, Slow: r.Axis.X.Speed / 2, Travel: conform.Spot{X: 0.33, Y: 0.33}, Within: unit.MM(0.1),
		Carriage: func() conform.Spot {
			x, y := m.Carriage()
			return conform.Spot{X: x / 1e3, Y: y / 1e3}
		},
		Lifted: func() float64 { return (m.Axis(2) - least) / drop },
		Finish: func() { _ = g.Close(); time.Sleep(time.Second) },
	}
}

// The G-code driver does what any gantry must, on a controller that shares no code
// with it.
func TestGCode(t *testing.T) {
	conform.Run(t, func(t *testing.T) *conform.Subject {
		c := clock.New(1)
		s, m := lineMachine(c)
		port := &wire.Port{Serve: s.Serve}
		subject := overLines(t, c, m, func() (io.ReadWriteCloser, error) {
			name := "none"
			if names := port.Names(); len(names) > 0 {
				name = names[0]
			}
			return port.Open(name)
		})
		subject.Cut, subject.Mend = port.Unplug, port.Plug
		return subject
	})
}

// The same through a terminal, with a machine that is quicker than real time.
func TestGCodeThroughATerminal(t *testing.T) {
	conform.RunOutside(t, func(t *testing.T) *conform.Subject {
		c := clock.New(20)
		s, m := lineMachine(c)
		term, err := firmware.OpenTerminal(s)
		if err != nil {
			t.Skip("no pseudo-terminals here:", err)
		}
		subject := overLines(t, c, m, gantry.Serial(term.Name, 115200))
		finish := subject.Finish
		subject.Finish = func() { finish(); _ = term.Close() }
		return subject
	})
}
