// SPDX-License-Identifier: Apache-2.0

package conform_test

import (
	"strings"
	"testing"
	"time"

	"boardhand/internal/gantry/built"
	"boardhand/internal/gantry/clock"
	"boardhand/internal/gantry/conform"
	"boardhand/internal/gantry/tacho"
	"boardhand/internal/gantry/tachobed"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// motorRig is the default rig with motors at ports: two for the y axis, facing each
// other.
func motorRig(t *testing.T) *rig.Rig {
	t.Helper()
	text := strings.Replace(rig.DefaultText, `kind = "twin"               #`,
		"kind = \"tacho\"\nmotor = { x = \"outA\", y = \"outB, -outC\", lift = \"outD\" }\n#", 1)
	r, err := rig.Parse("rig.toml", []byte(text), rig.Machine)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// The driver of tacho motors does what any gantry must, on motors that share no code
// with it.
func TestTacho(t *testing.T) {
	conform.Run(t, func(t *testing.T) *conform.Subject {
		r := motorRig(t)
		perMM := 360 / (16 * 3.14159265)
		travel := built.Axis{PerMM: perMM, Length: 337, Start: 120}
		lift := built.Axis{PerMM: 18, Length: 20, Start: 7}
		m := built.New(travel, travel, lift)
		motor := tachobed.Kind{PerTurn: 360, MaxSpeed: 1050, Friction: 0.1}
		var kinds []tachobed.Kind
		for i, port := range []string{"outA", "outB", "outC", "outD"} {
			k := motor
			k.Address, k.Axis, k.Opposed = "ports:"+port, []int{0, 1, 1, 2}[i], i == 2
			kinds = append(kinds, k)
		}
		c := clock.New(1)
		bed := tachobed.New(c, m, 5, kinds...)
		g, err := tacho.New(r, bed)
		if err != nil {
			t.Fatal(err)
		}
		var plugs []func()
		return &conform.Subject{
			Gantry: g, Holder: g, Clock: c, Slow: r.Axis.X.Speed / 2, Travel: conform.Spot{X: 0.336, Y: 0.336}, Within: unit.MM(0.4),
			Carriage: func() conform.Spot {
				x, y := bed.Carriage(m)
				return conform.Spot{X: x / 1e3, Y: y / 1e3}
			},
			Lifted: func() float64 { return m.Lift(c.Now()) },
			Jam:    func() { m.Hold(2) },
			Cut: func() {
				for _, k := range kinds {
					plugs = append(plugs, bed.Unplug(k.Address))
				}
			},
			Mend: func() {
				for _, p := range plugs {
					p()
				}
				time.Sleep(time.Second)
			},
			Finish: func() { _ = g.Close() },
		}
	})
}
