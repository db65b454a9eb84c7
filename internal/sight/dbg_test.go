package sight

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"boardhand/internal/frame"
)

func TestDbg92(t *testing.T) {
	rnd := rand.New(rand.NewPCG(92, 7))
	d, s := someDrawing(rnd, [2]int{1280, 720})
	img := d.draw(t)
	keep(t, img, "seed92.png")
	l, err := Locate(img, s)
	fmt.Printf("%+v\n%+v\n%v sigma %+v\n", l.View, d.view, err, l.fitted.Sigma)
	for j := 4; j >= -4; j-- {
		for i := -4; i <= 4; i++ {
			p := frame.Point[frame.Board]{X: float64(i) * s.Square, Y: float64(j) * s.Square}
			a, _ := l.View.Project(p)
			b, _ := d.view.Project(p)
			fmt.Printf("%5.2f,%5.2f ", a.X-b.X, a.Y-b.Y)
		}
		fmt.Println()
	}
}
