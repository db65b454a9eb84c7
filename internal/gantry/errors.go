// SPDX-License-Identifier: Apache-2.0

package gantry

import "errors"

// What a driver answers when it did not do what it was told.
var (
	ErrHalted = errors.New("the gantry was halted: home it when all is clear")
	ErrNoHome = errors.New("the axes have not found their zeros: home first")
	ErrBusy   = errors.New("the gantry is still moving: wait for it or halt it first")
)
