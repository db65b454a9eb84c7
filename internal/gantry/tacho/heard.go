// SPDX-License-Identifier: Apache-2.0

package tacho

import (
	"context"
	"errors"
	"math"
	"strconv"
	"sync/atomic"

	"boardhand/internal/gantry"
	"boardhand/internal/motion"
)

// heard is the folder of the motors, and how often something was wrong with what went to and fro:
// an attribute that could not be read or written, came late, or was not what the motor has.
type heard struct {
	Folder
	clock func() gantry.Clock
	wrong atomic.Int64
}

// Read reads an attribute.
func (h *heard) Read(name string) (text string, err error) {
	h.judge(func() error { text, err = h.Folder.Read(name); return err })
	return text, err
}

// Write writes an attribute.
func (h *heard) Write(name, value string) (err error) {
	h.judge(func() error { err = h.Folder.Write(name, value); return err })
	return err
}

// judge notes what fails, and what takes longer than attributes do.
func (h *heard) judge(do func() error) {
	began := h.clock().Now()
	if err := do(); err != nil || h.clock().Now().Sub(began) > slowAttribute {
		h.doubt()
	}
}

func (h *heard) doubt() { h.wrong.Add(1) }

// again reads an axis that seems to be far off its way once more, and whether its motors have
// the duty that they were told; the second number counts.
func (a *axis) again(n float64) (float64, error) {
	second, err := a.position()
	if err != nil {
		return n, err
	}
	for _, m := range a.motors {
		if math.Abs(second-n) > misheard*a.PerMetre {
			m.folder.doubt()
		}
		if has, err := m.number("duty_cycle_sp"); err == nil && a.isDirect && strconv.Itoa(has) != m.told {
			m.folder.doubt()
		}
	}
	return second, nil
}

// spoilt says of an error of a motion whether it is the wire's: one that began when so much
// had gone wrong.
func (g *Gantry) spoilt(ctx context.Context, before int64, err error) error {
	if err == nil || errors.Is(err, gantry.ErrHalted) || context.Cause(ctx) != nil || g.folder.wrong.Load() == before {
		return err
	}
	return &motion.Spoilt{Err: err}
}
