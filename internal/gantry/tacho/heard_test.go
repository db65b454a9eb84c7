// SPDX-License-Identifier: Apache-2.0

package tacho

import (
	"errors"
	"strings"
	"syscall"
	"testing"
	"time"

	"boardhand/internal/gantry/tachobed"
	"boardhand/internal/motion"
)

// illAt does something to one write of a duty; the others go through.
type illAt struct {
	Folder
	write int // which one, from now on
	ill   func(value string) (string, error)
}

func (f *illAt) Write(name, value string) error {
	if strings.HasSuffix(name, "duty_cycle_sp") {
		if f.write--; f.write == 0 {
			var err error
			if value, err = f.ill(value); err != nil {
				return err
			}
		}
	}
	return f.Folder.Write(name, value)
}

// A motion that goes wrong because the motors' wire does is told as such, with what became of
// it; one that a brake holds is not, nor one that a word was lost of and that went well.
func TestSpoiltByTheWire(t *testing.T) {
	for _, c := range []struct {
		name     string
		ill      func(string) (string, error)
		write    int
		brake    float64
		isSpoilt bool
		isError  bool
	}{
		// as it speeds up: y is told a quarter of a second later, and x goes on
		{"late", func(v string) (string, error) { time.Sleep(250 * time.Millisecond); return v, nil }, 20, 0, true, true},
		{"changed", func(string) (string, error) { return "-100", nil }, 60, 0, true, true},
		{"lost once", func(string) (string, error) { return "", syscall.EIO }, 60, 0, false, false},
		{"braked", func(v string) (string, error) { return v, nil }, 60, 0.45, false, true},
	} {
		inBed(t, func(k []tachobed.Kind) {
			if c.brake > 0 {
				k[0].Slow = c.brake
			}
		}, func(t *testing.T, b *bed) {
			b.homed(t)
			b.folder.Folder = &illAt{Folder: b.folder.Folder, write: c.write, ill: c.ill}
			_, err := b.Move(t.Context(), stroke(0.12, spot{X: 0.3, Y: 0.1}))
			var spoilt *motion.Spoilt
			if is := errors.As(err, &spoilt); is != c.isSpoilt || (err != nil) != c.isError {
				t.Errorf("%s: %v, spoilt %v", c.name, err, is)
			}
		})
	}
}
