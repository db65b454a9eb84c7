// SPDX-License-Identifier: Apache-2.0

package heads

import (
	_ "embed"
	"encoding/binary"
	"fmt"
	"math"
	"sync"
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

// mirror is a crop seen in a mirror, left for right.
func mirror(x []float32) []float32 {
	out := make([]float32, len(x))
	for i := range x {
		out[i] = x[i-i%Side+Side-1-i%Side]
	}
	return out
}

// Weigh says how well each kind fits a crop of Side × Side samples, and
// chess.NoKind, nobody: the logarithm of its probability but for a constant, in
// nats. A piece and its mirror image are of one kind: the mean of both.
func (c *Crop) Weigh() [answers]float64 {
	x := even(c.Grey)
	n := network()
	a, b := n.say(x, c.Extra), n.say(mirror(x), c.Extra)
	var w [answers]float64
	for k := range w {
		w[k] = float64(a[k]+b[k]) / 2
	}
	return w
}

// say sends an even crop through the network.
func (n *net) say(crop []float32, extra [extras]float32) []float32 {
	return n.f2.apply(n.body(crop, extra[:]...))
}

// body sends an even crop, and what is given beside it, through all but the last layer.
func (n *net) body(crop []float32, beside ...float32) []float32 {
	x := channels{side: Side, of: [][]float32{crop}}
	x = n.c1.apply(x)
	x = n.c2.apply(x).halve()
	x = n.c3.apply(x).halve()
	in := make([]float32, 0, len(n.f1.weight)/len(n.f1.bias))
	for _, p := range x.of {
		in = append(in, p...)
	}
	return rectified(n.f1.apply(append(in, beside...)))
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

// channels are pictures of one size.
type channels struct {
	side int
	of   [][]float32
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

func (c *convolution) apply(x channels) channels {
	to := channels{side: x.side / c.stride, of: make([][]float32, c.out)}
	for o := range to.of {
		sum := make([]float32, to.side*to.side)
		for i := range sum {
			sum[i] = c.bias[o]
		}
		for in, from := range x.of {
			weights := c.weight[(o*c.in+in)*c.size*c.size:][:c.size*c.size]
			if c.size == 3 && c.stride == 1 {
				addThree(sum, from, x.side, weights)
				continue
			}
			for k, w := range weights {
				c.add(sum, from, x.side, k, w)
			}
		}
		to.of[o] = rectified(sum)
	}
	return to
}

// add adds a channel, shifted as weight k says, to the sums.
func (c *convolution) add(sum, from []float32, side, k int, w float32) {
	dx, dy := k%c.size-c.size/2, k/c.size-c.size/2
	wide := side / c.stride
	first := max(0, (-dx+c.stride-1)/c.stride)
	last := min(wide, (side-dx+c.stride-1)/c.stride)
	for y := range wide {
		v := y*c.stride + dy
		if v < 0 || v >= side {
			continue
		}
		row, to := from[v*side+first*c.stride+dx:(v+1)*side], sum[y*wide+first:y*wide+last]
		if c.stride == 1 {
			row = row[:len(to)] // no bounds to check in the loop
			for x := range to {
				to[x] += w * row[x]
			}
			continue
		}
		for x := range to {
			to[x] += w * row[x*c.stride]
		}
	}
}

// addThree is add for all weights of a 3 × 3 neighbourhood at once, row by row.
func addThree(sum, from []float32, side int, weights []float32) {
	row := func(y int) []float32 { return from[y*side:][:side] }
	for y := range side {
		to := sum[y*side:][:side]
		if y > 0 && y < side-1 {
			addRows(to, row(y-1), row(y), row(y+1), weights)
			continue
		}
		for dy := max(0, 1-y); dy < min(3, side+1-y); dy++ {
			addRow(to, row(y+dy-1), weights[3*dy:][:3])
		}
	}
}

// addRow adds a row with three weights.
func addRow(to, row, w []float32) {
	last := len(row) - 1
	to[0] += w[1]*row[0] + w[2]*row[1]
	to[last] += w[0]*row[last-1] + w[1]*row[last]
	for x := 1; x < last; x++ {
		to[x] += w[0]*row[x-1] + w[1]*row[x] + w[2]*row[x+1]
	}
}

// addRows adds three rows with nine weights, one after the other.
func addRows(to, up, here, down, w []float32) {
	w0, w1, w2, w3, w4, w5, w6, w7, w8 := w[0], w[1], w[2], w[3], w[4], w[5], w[6], w[7], w[8]
	last := len(to) - 1
	to[0] = to[0] + (w1*up[0] + w2*up[1]) + (w4*here[0] + w5*here[1]) + (w7*down[0] + w8*down[1])
	to[last] = to[last] + (w0*up[last-1] + w1*up[last]) + (w3*here[last-1] + w4*here[last]) + (w6*down[last-1] + w7*down[last])
	n := last - 1
	to, up, here, down = to[1:][:n], up[:n+2], here[:n+2], down[:n+2]
	a, b, c := up[0], here[0], down[0]
	d, e, f := up[1], here[1], down[1]
	up, here, down = up[2:][:n], here[2:][:n], down[2:][:n]
	for x := range to {
		g, h, i := up[x], here[x], down[x]
		to[x] = to[x] + (w0*a + w1*d + w2*g) + (w3*b + w4*e + w5*h) + (w6*c + w7*f + w8*i)
		a, b, c, d, e, f = d, e, f, g, h, i
	}
}

// halve keeps the largest of every four.
func (x channels) halve() channels {
	to := channels{side: x.side / 2, of: make([][]float32, len(x.of))}
	for c, from := range x.of {
		half := make([]float32, to.side*to.side)
		for i := range half {
			at := 2*(i/to.side)*x.side + 2*(i%to.side)
			half[i] = max(from[at], from[at+1], from[at+x.side], from[at+x.side+1])
		}
		to.of[c] = half
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
		sum := f.bias[o]
		for i, w := range f.weight[o*len(x) : (o+1)*len(x)] {
			sum += w * x[i]
		}
		out[o] = sum
	}
	return out
}

func rectified(x []float32) []float32 {
	for i, v := range x {
		x[i] = max(0, v)
	}
	return x
}
