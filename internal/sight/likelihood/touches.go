// SPDX-License-Identifier: Apache-2.0

package likelihood

// touches are the pixels that a change can touch, and who arrives over them.
type touches struct {
	slot   []int32   // by pixel: its place in the lists, from 1 on; 0: not touched
	px     []int32   // the pixels
	extra  []arrival // depthExtra each
	extras []uint8   // how many of them are used
}

// touch lists a pixel and says where.
func (t *touches) touch(px int32) int {
	if t.slot[px] == 0 {
		t.px, t.extras = append(t.px, px), append(t.extras, 0)
		t.extra = append(t.extra, make([]arrival, depthExtra)...)
		t.slot[px] = int32(len(t.px))
	}
	return int(t.slot[px]) - 1
}

// over gives the arrivals over a listed pixel.
func (t *touches) over(k int) []arrival {
	return t.extra[k*depthExtra : k*depthExtra+int(t.extras[k])]
}

// forget empties the lists, for so many pixels.
func (t *touches) forget(n int) {
	if len(t.slot) != n {
		*t = touches{slot: make([]int32, n)}
	}
	for _, px := range t.px {
		t.slot[px] = 0
	}
	t.px, t.extra, t.extras = t.px[:0], t.extra[:0], t.extras[:0]
}

// arrival is an arrived piece over a pixel.
type arrival struct {
	alpha float32
	piece uint8 // index in the hypothesis's arrivals
	band  uint8
}
