// SPDX-License-Identifier: Apache-2.0

//go:build !unix

package firmware

import "errors"

// Terminal is a firmware behind a pseudo-terminal, which this system does not have.
type Terminal struct{ Name string }

// OpenTerminal says that there is none.
func OpenTerminal(*Server) (*Terminal, error) {
	return nil, errors.New("a simulated controller behind a terminal needs Linux or macOS")
}

// Close closes nothing.
func (*Terminal) Close() error { return nil }
