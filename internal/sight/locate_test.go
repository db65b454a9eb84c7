package sight

import (
	"fmt"
	"image"
	"image/png"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"
)

func TestLocateStress(t *testing.T) {
	debugPlace = true
	from, n := 0, 60
	fmt.Sscanf(os.Getenv("STRESS"), "%d %d", &from, &n)
	for seed := from; seed < n; seed++ {
		rnd := rand.New(rand.NewPCG(uint64(seed), 7))
		size := [][2]int{{1280, 720}, {640, 480}, {1280, 720}, {1920, 1080}}[seed%4]
		d, s := someDrawing(rnd, size)
		img := d.draw(t)
		began := time.Now()
		l, err := Locate(img, s)
		took := time.Since(began).Round(time.Millisecond)
		what := fmt.Sprintf("%v step %.0f contrast %.0f grain %.0f noise %.1f q %d hand %v cloth %.0f shadow %.2f k1 %.2f", size, d.view.Lens.Fx*d.square/d.view.Camera().Z, d.light-d.dark, d.grain, d.noise, d.quality, d.hand, d.cloth, d.shadow, d.view.Lens.K1)
		if err != nil {
			fmt.Printf("seed %d: %v (%v) %s\n", seed, err, took, what)
			keep(t, img, fmt.Sprintf("seed%d.png", seed))
			continue
		}
		if seed == 3 {
			keep(t, img, "seed3.png")
		}
		rms, worst := fieldMiss(l.View, d.view, s.Square)
		fmt.Printf("seed %d: rms %.3f worst %.3f sigma %.3f fit %.3f corners %d agree %.2f h %.1f (%.1f ± %.1f) %v %s\n", seed, rms, worst, l.Sigma, l.RMS, l.Corners, l.Agreement, l.View.Camera().Z*1e3, d.view.Camera().Z*1e3, l.HeightSigma*1e3, took, what)
	}
}

func keep(t *testing.T, img image.Image, name string) {
	f, err := os.Create(filepath.Join("/tmp/locate", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	png.Encode(f, img)
}
