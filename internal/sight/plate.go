package sight

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"math"
)

// plate is a picture reduced to about a pixel a millimetre and turned into
// what lamps and cameras change only by adding a constant: the logarithm of
// the brightness, and two logarithms of colour ratios. Exposure and white
// balance shift a channel's logarithm; a soft shadow shifts the brightness.
type plate struct {
	w, h    int
	reduce  float64   // picture pixels a plate pixel, each way
	l, a, b []float32 // (ln R + ln G + ln B)/3, ln R − ln G, ln B − ln G
	noise   []float32 // σ of l from the sensor and the coding, without unit
	soft    []float32 // l averaged over nine pixels, once asked for: less noise, hardly less structure
}

// softened is the brightness with less noise.
func (p *plate) softened() []float32 {
	if p.soft == nil {
		p.soft = make([]float32, len(p.l))
		smooth(p.soft, p.l, p.w, box{0, 0, p.w, p.h}, 1)
	}
	return p.soft
}

const (
	// black is added to every channel (of 255) before the logarithm, so that
	// dark noise stays finite: about the noise of a small camera.
	black = 8.0
	// grain is the noise of a reduced pixel in levels of 255: what is left of
	// a small camera's 3–5 levels and of the coding after averaging four.
	grain    = 1.6
	logSteps = 4 // entries a level in the table of logarithms
)

var logTable = func() [256*logSteps + 1]float32 {
	var t [256*logSteps + 1]float32
	for i := range t {
		t[i] = float32(math.Log(float64(i)/logSteps + black))
	}
	return t
}()

// Errors of pictures that show no board.
var (
	ErrDark  = errors.New("the picture is black: take the cap off the lens, switch the light on")
	ErrBlank = errors.New("the picture shows nothing: one even colour")
)

// decode returns the picture's pixels.
func (p Picture) decode() (image.Image, error) {
	if p.Image != nil {
		return p.Image, nil
	}
	if len(p.JPEG) == 0 {
		return nil, errors.New("the picture is empty")
	}
	var img image.Image
	var err error
	if bytes.HasPrefix(p.JPEG, []byte("\x89PNG")) {
		img, err = png.Decode(bytes.NewReader(p.JPEG))
	} else {
		img, err = jpeg.Decode(bytes.NewReader(p.JPEG))
	}
	if err != nil {
		return nil, fmt.Errorf("the picture is broken: %w", err)
	}
	return img, nil
}

// size is the picture's, pixels, by its header: nothing is unpacked.
func (p Picture) size() (width, height int, err error) {
	if p.Image != nil {
		b := p.Image.Bounds()
		return b.Dx(), b.Dy(), nil
	}
	if len(p.JPEG) == 0 {
		return 0, 0, errors.New("the picture is empty")
	}
	header := jpeg.DecodeConfig
	if bytes.HasPrefix(p.JPEG, []byte("\x89PNG")) {
		header = png.DecodeConfig
	}
	c, err := header(bytes.NewReader(p.JPEG))
	if err != nil {
		return 0, 0, fmt.Errorf("the picture is broken: %w", err)
	}
	return c.Width, c.Height, nil
}

// newPlate reduces a picture by averaging blocks of reduce × reduce pixels;
// pixels that a block's edge cuts count for both in their shares.
func newPlate(img image.Image, reduce float64) *plate {
	from := newSqueeze(img, reduce)
	p := &plate{w: len(from.cuts[0].first), h: len(from.down.first), reduce: reduce}
	for _, plane := range []*[]float32{&p.l, &p.a, &p.b, &p.noise} {
		*plane = make([]float32, p.w*p.h) // one by one: some are kept longer than others
	}
	for y := range p.h {
		p.develop(y, from.row(y), float32(1/(reduce*reduce)))
	}
	return p
}

// develop turns one row of channel sums into logarithms.
func (p *plate) develop(y int, row *[3][]float32, scale float32) {
	for x := range p.w {
		r, g, b := row[0][x]*scale, row[1][x]*scale, row[2][x]*scale
		lr, lg, lb := logOf(r), logOf(g), logOf(b)
		i := y*p.w + x
		p.l[i] = (lr + lg + lb) / 3
		p.a[i] = lr - lg
		p.b[i] = lb - lg
		p.noise[i] = grain / ((r+g+b)/3 + black)
	}
}

func logOf(v float32) float32 {
	return logTable[int(min(max(v, 0), 255)*logSteps)]
}

// Limits of a picture that shows anything at all, in levels of 255 averaged
// over a plate pixel: a covered lens gives sensor noise only.
const (
	darkest = 10.0 // the brightest hundredth must be above this
	evenest = 3.0  // the brightness must spread more than this, σ
)

// usable refuses pictures of a lens cap or a bare wall.
func (p *plate) usable() error {
	var sum, sum2 float64
	bright, n := 0, 0
	for i := 0; i < len(p.l); i += 29 {
		v := math.Exp(float64(p.l[i])) - black
		sum += v
		sum2 += v * v
		n++
		if v > darkest {
			bright++
		}
	}
	mean := sum / float64(n)
	switch spread := math.Sqrt(math.Max(0, sum2/float64(n)-mean*mean)); {
	case bright*100 < n:
		return ErrDark
	case spread < evenest:
		return ErrBlank
	}
	return nil
}
