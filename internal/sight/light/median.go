// SPDX-License-Identifier: Apache-2.0

package light

// The bins of a running median: from the deepest shadow to the brightest reflection.
const (
	widest = 3.0 // to either side of no change, logarithm of brightness
	bins   = 150
	perBin = bins / (widest + widest)
)

// weightedMedians is the weighted median of a value over the cells within r of each, and
// whether there is enough weight, a cell, to know it. Bins make it exact to 0.02.
func weightedMedians(v, weight []float32, cols, r int, least float32) (out []float32, known []bool) {
	rows := len(v) / cols
	bin := make([]uint8, len(v))
	for k, x := range v {
		bin[k] = uint8(max(0, min(bins-1, (x+widest)*perBin)))
	}
	out, known = make([]float32, len(v)), make([]bool, len(v))
	for y := range rows {
		var counts [bins]float32
		total := float32(0)
		column := func(x int, sign float32) {
			for j := max(0, y-r); j <= min(rows-1, y+r); j++ {
				k := j*cols + x
				counts[bin[k]] += sign * weight[k]
				total += sign * weight[k]
			}
		}
		for x := range min(r, cols) {
			column(x, 1)
		}
		for x := range cols {
			if x+r < cols {
				column(x+r, 1)
			}
			if x-r-1 >= 0 {
				column(x-r-1, -1)
			}
			k := y*cols + x
			if known[k] = total > least*float32((2*r+1)*(2*r+1)); known[k] {
				out[k] = middleOf(&counts, total)
			}
		}
	}
	return out, known
}

// middleOf is the value below which half of the weight lies, between bins linear.
func middleOf(counts *[bins]float32, total float32) float32 {
	sum := float32(0)
	for k, c := range counts {
		if c > 0 && sum+c >= total/2 {
			return (float32(k)+(total/2-sum)/c)/perBin - widest
		}
		sum += c
	}
	return 0
}
