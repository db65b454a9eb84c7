// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"image"
	"math/rand/v2"
	"syscall"
	"testing"
)

// processor is the time this process has computed, in ns: what a busy machine
// does not stretch.
func processor() int64 {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return u.Utime.Nano() + u.Stime.Nano()
}

// benchPicture is the start position on 1280 × 720, drawn once.
func benchPicture(b *testing.B) (*image.Gray, Setup, *drawing) {
	b.Helper()
	d, s := someDrawing(rand.New(rand.NewPCG(92, 7)), [2]int{1280, 720})
	t := &testing.T{}
	return d.draw(t), s, d
}

func BenchmarkLocate(b *testing.B) {
	img, s, _ := benchPicture(b)
	before := processor()
	defer func() { b.ReportMetric(float64(processor()-before)/float64(b.N)/1e6, "cpu-ms/op") }()
	for b.Loop() {
		if _, err := Find(img, s); err != nil {
			b.Fatal(err)
		}
	}
}

// The camera has not moved.
func BenchmarkTrackStill(b *testing.B) {
	img, s, d := benchPicture(b)
	s.Prior = &d.view
	before := processor()
	defer func() { b.ReportMetric(float64(processor()-before)/float64(b.N)/1e6, "cpu-ms/op") }()
	for b.Loop() {
		if _, err := Track(img, s); err != nil {
			b.Fatal(err)
		}
	}
}

// The camera was bumped by a sixth of a square.
func BenchmarkFindBumped(b *testing.B) {
	img, s, d := benchPicture(b)
	v := jolted(d.view, [3]float64{0.015, -0.01, 0.01})
	s.Prior = &v
	before := processor()
	defer func() { b.ReportMetric(float64(processor()-before)/float64(b.N)/1e6, "cpu-ms/op") }()
	for b.Loop() {
		if _, err := Find(img, s); err != nil {
			b.Fatal(err)
		}
	}
}
