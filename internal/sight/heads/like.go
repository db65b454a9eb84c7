// SPDX-License-Identifier: Apache-2.0

package heads

import (
	_ "embed"
	"encoding/binary"
	"fmt"
	"math"
	"sync"
)

//go:embed likes.bin
var learntLikes []byte

// The sizes of the network that tells whether two pieces are of one kind; tools/heads/likes.py
// has the same.
const (
	likeHidden = 64
	likeGrown  = 48
	looks      = 32
)

// Look is what a piece looks like, whatever its make: the nearer two looks of one set of
// pieces lie to each other, the likelier both pieces are of one kind.
type Look [looks]float64

// likeNet is a net that knows of no kinds.
type likeNet struct {
	*net
	side  float64 // nats more between pieces of one side
	unmet float64 // nats of a kind that has not been met
}

// likeNetwork is read when it is first asked.
var likeNetwork = sync.OnceValue(func() *likeNet {
	n, err := readLikes(learntLikes)
	if err != nil {
		panic(err) // likes.bin is built in: a test would have said so
	}
	return n
})

// readLikes reads weights as likes.py writes them: the upper halves of float32, then two
// float32 whole, little-endian.
func readLikes(b []byte) (*likeNet, error) {
	n := &likeNet{net: newNet(likeGrown, 1, likeHidden, looks)}
	b, err := n.read(b)
	if err != nil {
		return nil, fmt.Errorf("likes.bin: %w", err)
	}
	if len(b) != 8 {
		return nil, fmt.Errorf("likes.bin has %d bytes after the weights, not 8", len(b))
	}
	n.side = float64(math.Float32frombits(binary.LittleEndian.Uint32(b)))
	n.unmet = float64(math.Float32frombits(binary.LittleEndian.Uint32(b[4:])))
	return n, nil
}

// Look is how the piece of a crop of Side × Side samples looks; its mirror image looks alike.
func (c *Crop) Look() Look {
	n := likeNetwork()
	both := n.body(twice(even(c.Grey)), c.Lean-leanMiddle)
	a := both[0]
	for i, v := range both[1] {
		a[i] = (a[i] + v) / 2
	}
	var out Look
	for i, v := range n.f2.apply(a) {
		out[i] = float64(v)
	}
	return out
}

// leanMiddle is a middling lean: the network wants it about 0.
const leanMiddle = 0.5

// Alike is how well two pieces of a set go for pieces of one kind, in nats but for a constant.
func Alike(a, b *Look, oneSide bool) float64 {
	sum := 0.0
	for i := range a {
		d := a[i] - b[i]
		sum += d * d
	}
	if oneSide {
		return likeNetwork().side - sum
	}
	return -sum
}

// Unmet is what stands for Alike where no piece of a kind has been seen.
func Unmet() float64 { return likeNetwork().unmet }
