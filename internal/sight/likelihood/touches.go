// SPDX-License-Identifier: Apache-2.0

package likelihood

import "boardhand/internal/sight/scene"

// touches are the pixels that a change can touch, and who arrives over them.
type touches struct {
	slots []int32 // by pixel: its place in the list, from 1 on; 0: not touched
	list  []touch
}

// touch is a pixel that a change can touch.
type touch struct {
	px    int32
	n     uint8 // arrivals kept
	extra [depthExtra]arrival
}

// arrival is an arrived piece over a pixel.
type arrival struct {
	alpha float32
	piece uint8 // index in the hypothesis's arrivals
	band  uint8
}

// at lists a pixel.
func (t *touches) at(px int32) *touch {
	k := t.slots[px]
	if k == 0 {
		t.list = append(t.list, touch{px: px})
		k = int32(len(t.list))
		t.slots[px] = k
	}
	return &t.list[k-1]
}

// forget empties the list, for so many pixels.
func (t *touches) forget(n int) {
	if len(t.slots) != n {
		t.slots, t.list = make([]int32, n), nil
	}
	for k := range t.list {
		t.slots[t.list[k].px] = 0
	}
	t.list = t.list[:0]
}

// add puts one more arrival over the pixel, those nearer to the camera first; one too many
// is dropped.
func (t *touch) add(a arrival, come []scene.Placement) {
	if t.n == depthExtra {
		return
	}
	k := int(t.n)
	for ; k > 0 && come[a.piece].Reach < come[t.extra[k-1].piece].Reach; k-- {
		t.extra[k] = t.extra[k-1]
	}
	t.extra[k] = a
	t.n++
}

// has says whether one of the arrivals is over the pixel.
func (t *touch) has(piece uint8) bool {
	for k := range t.n {
		if t.extra[k].piece == piece {
			return true
		}
	}
	return false
}
