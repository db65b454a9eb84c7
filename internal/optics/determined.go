// SPDX-License-Identifier: Apache-2.0

package optics

import (
	"errors"

	"boardhand/internal/linear"
)

// ErrSingular says that the data do not determine what is asked.
var ErrSingular = errors.New("the corners do not determine the answer: too few, or all in one line")

// determined says of corners what the solver says of equations.
func determined(err error) error {
	if errors.Is(err, linear.ErrSingular) {
		return ErrSingular
	}
	return err
}
