// SPDX-License-Identifier: Apache-2.0

package coupling

import (
	"boardhand/internal/drag"
	"boardhand/internal/magnet"
)

// remembered is a force law that works each place out once: all pieces and all
// remanences share their gaps and offsets.
type remembered struct {
	law  drag.Puller
	seen map[[2]float64]magnet.Pull
}

// At is the law's pull.
func (r remembered) At(gap, offset float64) (magnet.Pull, error) {
	key := [2]float64{gap, offset}
	if p, ok := r.seen[key]; ok {
		return p, nil
	}
	p, err := r.law.At(gap, offset)
	if err == nil {
		r.seen[key] = p
	}
	return p, err
}
