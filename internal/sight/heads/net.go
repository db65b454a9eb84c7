// SPDX-License-Identifier: Apache-2.0

package heads

import (
	_ "embed"
	"encoding/binary"
	"fmt"
	"math"
	"sync"

	"github.com/viterin/vek/vek32"
)

//go:embed weights.bin
var learnt []byte

// net is three convolutions, the first at every second sample, each after a
// rectifier; the other two are halved by their largest; then two full layers.
type net struct {
	c1, c2, c3 convolution
	f1, f2     full
}

// newNet has so many channels after the last convolution, samples given beside the crop,
// values between the full layers, and answers.
func newNet(grown, beside, hidden, answers int) *net {
	n := &net{
		c1: newConvolution(1, grown/3, 5), c2: newConvolution(grown/3, 2*grown/3, 3), c3: newConvolution(2*grown/3, grown, 3),
		f1: newFull(grown*halved*halved+beside, hidden), f2: newFull(hidden, answers),
	}
	n.c1.stride = 2
	return n
}

// The sizes of the network; tools/heads/learn.py has the same.
const (
	hidden = 32
	grown  = 36 // channels of the last convolution
	halved = 6  // samples each way after it
)

// network is read when it is first asked.
var network = sync.OnceValue(func() *net {
	n, err := readNet(learnt)
	if err != nil {
		panic(err) // weights.bin is built in: a test would have said so
	}
	return n
})

// readNet reads weights as learn.py writes them: the upper halves of float32,
// little-endian.
func readNet(b []byte) (*net, error) {
	n := newNet(grown, extras, hidden, answers)
	b, err := n.read(b)
	if err != nil {
		return nil, fmt.Errorf("weights.bin: %w", err)
	}
	if len(b) != 0 {
		return nil, fmt.Errorf("weights.bin has %d bytes too many", len(b))
	}
	return n, nil
}

// read takes all weights from the head of b, and says what is left.
func (n *net) read(b []byte) ([]byte, error) {
	return readHalves(b, n.c1.weight, n.c1.bias, n.c2.weight, n.c2.bias, n.c3.weight, n.c3.bias,
		n.f1.weight, n.f1.bias, n.f2.weight, n.f2.bias)
}

// readHalves fills parts with the upper halves of float32, and says what is left.
func readHalves(b []byte, parts ...[]float32) ([]byte, error) {
	for _, part := range parts {
		if len(b) < 2*len(part) {
			return nil, fmt.Errorf("%d bytes short", 2*len(part)-len(b))
		}
		for i := range part {
			part[i] = math.Float32frombits(uint32(binary.LittleEndian.Uint16(b[2*i:])) << 16)
		}
		b = b[2*len(part):]
	}
	return b, nil
}

// Weigh says how well each kind fits a crop of Side × Side samples, and
// chess.NoKind, nobody: the logarithm of its probability but for a constant, in
// nats. A piece and its mirror image are of one kind: the mean of both.
func (c *Crop) Weigh() [answers]float64 {
	both := network().say(twice(even(c.Grey)), c.Extra[:]...)
	var w [answers]float64
	for k := range w {
		w[k] = float64(both[0][k]+both[1][k]) / 2
	}
	return w
}

// twice is an even crop, and the same seen in a mirror, left for right.
func twice(x []float32) channels {
	both := channels{side: Side, pictures: 2, of: make([]float32, 2*len(x))}
	copy(both.of, x)
	for i := range x {
		both.of[len(x)+i] = x[i-i%Side+Side-1-i%Side]
	}
	return both
}

// say sends even crops through the network, and what is given beside them.
func (n *net) say(crops channels, beside ...float32) [][]float32 {
	out := n.body(crops, beside...)
	for i, v := range out {
		out[i] = n.f2.apply(v)
	}
	return out
}

// body sends even crops, and what is given beside them, through all but the last layer.
func (n *net) body(x channels, beside ...float32) [][]float32 {
	x = n.c1.apply(x)
	x = n.c2.apply(x).halve()
	x = n.c3.apply(x).halve()
	out := make([][]float32, x.pictures)
	for i := range out {
		in := make([]float32, 0, len(n.f1.weight)/len(n.f1.bias))
		for c := range n.c3.out {
			in = append(in, x.plane(c, i)...)
		}
		out[i] = rectified(n.f1.apply(append(in, beside...)))
	}
	return out
}

// even is brightness as the network wants it: its logarithm, mean 0, spread 1,
// so that neither exposure nor contrast matters.
func even(grey []float32) []float32 {
	const black, least = 16, 0.05
	out := make([]float32, len(grey))
	sum, sum2 := 0.0, 0.0
	for i, v := range grey {
		l := math.Log(float64(v) + black)
		out[i] = float32(l)
		sum += l
		sum2 += l * l
	}
	n := float64(len(grey))
	mean := sum / n
	spread := math.Sqrt(math.Max(0, sum2/n-mean*mean)) + least
	for i, l := range out {
		out[i] = float32((float64(l) - mean) / spread)
	}
	return out
}

// channels are square pictures of one size, by channel, then picture.
type channels struct {
	side, pictures int
	of             []float32
}

// plane is a channel of a picture, row by row.
func (x *channels) plane(channel, picture int) []float32 {
	size := x.side * x.side
	return x.of[(channel*x.pictures+picture)*size:][:size]
}

// convolution sums each neighbourhood of all channels with its weights, adds a
// bias, and rectifies; beyond the rim all is 0.
type convolution struct {
	in, out, size, stride int
	weight, bias          []float32 // weight by out, in, row, column
}

func newConvolution(in, out, size int) convolution {
	return convolution{in: in, out: out, size: size, stride: 1, weight: make([]float32, out*in*size*size), bias: make([]float32, out)}
}

// apply is one product of matrices, which a library does many samples at a time:
// the weights, an output a row, by the neighbourhoods, a sample a column.
func (c *convolution) apply(x channels) channels {
	to := channels{side: x.side / c.stride, pictures: x.pictures}
	around := c.neighbourhoods(&x, to.side)
	to.of = vek32.MatMul(c.weight, around, c.in*c.size*c.size)
	each := len(to.of) / c.out
	for o, b := range c.bias {
		row := to.of[o*each:][:each]
		for i, v := range row {
			row[i] = max(0, v+b)
		}
	}
	return to
}

// neighbourhoods has a row for each weight of an output: the samples that it is for.
func (c *convolution) neighbourhoods(x *channels, side int) []float32 {
	samples := x.pictures * side * side
	out := make([]float32, c.in*c.size*c.size*samples)
	for k := range c.in * c.size * c.size {
		channel, dy, dx := k/(c.size*c.size), k/c.size%c.size-c.size/2, k%c.size-c.size/2
		first := max(0, (-dx+c.stride-1)/c.stride)
		last := min(side, (x.side-dx+c.stride-1)/c.stride)
		for p := range x.pictures {
			from, to := x.plane(channel, p), out[k*samples+p*side*side:]
			for y := range side {
				v := y*c.stride + dy
				if v < 0 || v >= x.side {
					continue
				}
				row := from[v*x.side : (v+1)*x.side]
				if c.stride == 1 {
					copy(to[y*side+first:y*side+last], row[first+dx:])
					continue
				}
				for i := first; i < last; i++ {
					to[y*side+i] = row[i*c.stride+dx]
				}
			}
		}
	}
	return out
}

// halve keeps the largest of every four.
func (x channels) halve() channels {
	side := x.side / 2
	to := channels{side: side, pictures: x.pictures, of: make([]float32, len(x.of)/4)}
	for i := range to.of {
		at := 4*(i/(side*side))*side*side + 2*(i/side%side)*x.side + 2*(i%side)
		to.of[i] = max(x.of[at], x.of[at+1], x.of[at+x.side], x.of[at+x.side+1])
	}
	return to
}

// full sums all of its input with weights, by output.
type full struct {
	weight, bias []float32
}

func newFull(in, out int) full {
	return full{weight: make([]float32, in*out), bias: make([]float32, out)}
}

func (f *full) apply(x []float32) []float32 {
	out := make([]float32, len(f.bias))
	for o := range out {
		out[o] = f.bias[o] + vek32.Dot(f.weight[o*len(x):(o+1)*len(x)], x)
	}
	return out
}

func rectified(x []float32) []float32 {
	for i, v := range x {
		x[i] = max(0, v)
	}
	return x
}
