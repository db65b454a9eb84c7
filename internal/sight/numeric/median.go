// SPDX-License-Identifier: Apache-2.0

package numeric

// Median of v, which it reorders; 0 for none.
func Median(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	return Nth(v, len(v)/2)
}

// Nth is the element that has k smaller ones, in linear time (Hoare's
// selection); it reorders v.
func Nth(v []float64, k int) float64 {
	for low, high := 0, len(v)-1; low < high; {
		pivot, i, j := v[k], low, high
		for i <= j {
			for v[i] < pivot {
				i++
			}
			for pivot < v[j] {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i, j = i+1, j-1
			}
		}
		if j < k {
			low = i
		}
		if k < i {
			high = j
		}
	}
	return v[k]
}

// MedianOf is the median of a value over pixels.
func MedianOf(where []int32, value func(int32) float64) float64 {
	v := make([]float64, len(where))
	for n, i := range where {
		v[n] = value(i)
	}
	return Median(v)
}
