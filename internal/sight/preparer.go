// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"math"
	"sync/atomic"

	"boardhand/internal/sight/pixels"
)

// Preparer does with pictures, ahead of a reader, what does not hang on the pictures before
// them. Several goroutines may use it at once; what is read is the same with it and without.
type Preparer struct {
	scale atomic.Uint64 // the bits of the reduction that the reader asked for last; 0: none yet
}

// Prepare reduces a decoded picture as the reader did the last one.
func (k *Preparer) Prepare(p Picture) Picture {
	if s := math.Float64frombits(k.scale.Load()); s > 0 && p.Image != nil {
		p.reduced = pixels.Reduce(p.Image, s)
		p.reduced.Softened()
	}
	return p
}

// Preparer is what prepares pictures for the reader.
func (r *Reader) Preparer() *Preparer { return r.preparer }
