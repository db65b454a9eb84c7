// SPDX-License-Identifier: Apache-2.0

package tacho

import (
	"testing"
	"time"
)

// noisy is a folder some of whose attributes read as random bytes.
type noisy struct {
	Folder
	bytes []byte
	from  int // reads until the first such one
	many  int // how many there are
	isOn  bool
}

func (n *noisy) Read(name string) (string, error) {
	if n.isOn {
		n.from--
	}
	if n.isOn && n.from < 0 && n.from >= -n.many {
		return string(n.bytes), nil
	}
	return n.Folder.Read(name)
}

// Random bytes for some attributes in the middle of a stroke: no panic; the stroke either
// arrives truly or is an error, after which the motors stand.
func FuzzMotors(f *testing.F) {
	for _, s := range []string{"", "0", "-1\n", "99999999999", "12x", "running stalled\n", "\x00\xff", "2147483647"} {
		f.Add([]byte(s), uint16(20), uint8(1))
		f.Add([]byte(s), uint16(100), uint8(200))
	}
	f.Fuzz(func(t *testing.T, bytes []byte, from uint16, many uint8) {
		inBed(t, nil, func(t *testing.T, b *bed) {
			n := &noisy{Folder: b.motors, bytes: bytes, from: int(from % 2000), many: int(many)}
			var err error
			if b.Gantry, err = New(benchRig(t, allMotors), n); err != nil {
				t.Fatal(err)
			}
			b.homed(t)
			zero := b.at()
			n.isOn = true
			to := spot{X: 0.08, Y: 0.05}
			_, err = b.Move(t.Context(), stroke(0.1, to))
			n.isOn = false
			time.Sleep(time.Second)
			at := b.at()
			if off := at.Sub(zero).Distance(to); err == nil && off > 1.5e-3 {
				t.Errorf("%q: said to be done, %.1f mm off", bytes, off*1e3)
			}
			time.Sleep(time.Second)
			if went := b.at().Distance(at); went > 0.1e-3 {
				t.Errorf("%q (%v): went on by %.1f mm", bytes, err, went*1e3)
			}
		})
	})
}
