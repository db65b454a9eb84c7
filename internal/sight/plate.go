package sight

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
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
	reduce  int       // picture pixels a plate pixel, each way
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

// newPlate reduces a picture by averaging blocks of reduce × reduce pixels.
func newPlate(img image.Image, reduce int) *plate {
	b := img.Bounds()
	p := &plate{w: b.Dx() / reduce, h: b.Dy() / reduce, reduce: reduce}
	n := p.w * p.h
	all := make([]float32, 4*n)
	p.l, p.a, p.b, p.noise = all[:n:n], all[n:2*n:2*n], all[2*n:3*n:3*n], all[3*n:]
	row := make([]float32, 3*p.w)
	for y := range p.h {
		clear(row)
		sumRows(img, y*reduce, reduce, row)
		p.develop(y, row, 1/float32(reduce*reduce))
	}
	return p
}

// develop turns one row of channel sums into logarithms.
func (p *plate) develop(y int, row []float32, scale float32) {
	for x := range p.w {
		r, g, b := row[3*x]*scale, row[3*x+1]*scale, row[3*x+2]*scale
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

// sumRows adds the channels of rows y0 … y0+reduce−1 into row, three sums a
// plate pixel, 0–255 each.
func sumRows(img image.Image, y0, reduce int, row []float32) {
	switch m := img.(type) {
	case *image.YCbCr:
		sumYCbCr(m, y0, reduce, row)
	case *image.RGBA:
		for y := y0; y < y0+reduce; y++ {
			sumPacked(m.Pix[m.PixOffset(m.Rect.Min.X, m.Rect.Min.Y+y):], reduce, row)
		}
	case *image.NRGBA:
		for y := y0; y < y0+reduce; y++ {
			sumPacked(m.Pix[m.PixOffset(m.Rect.Min.X, m.Rect.Min.Y+y):], reduce, row)
		}
	default:
		sumAny(img, y0, reduce, row)
	}
}

// sumPacked adds one row of red, green, blue, alpha bytes.
func sumPacked(pix []uint8, reduce int, row []float32) {
	i := 0
	for x := 0; x < len(row); x += 3 {
		for range reduce {
			row[x] += float32(pix[i])
			row[x+1] += float32(pix[i+1])
			row[x+2] += float32(pix[i+2])
			i += 4
		}
	}
}

// sumAny is the slow way, for whatever else an image may be.
func sumAny(img image.Image, y0, reduce int, row []float32) {
	b := img.Bounds()
	for y := y0; y < y0+reduce; y++ {
		for x := range len(row) / 3 * reduce {
			c := color.NRGBAModel.Convert(img.At(b.Min.X+x, b.Min.Y+y)).(color.NRGBA)
			k := x / reduce * 3
			row[k] += float32(c.R)
			row[k+1] += float32(c.G)
			row[k+2] += float32(c.B)
		}
	}
}

// sumYCbCr sums brightness and colour differences first and converts once a
// plate pixel (ITU-T T.871, the JFIF conversion).
func sumYCbCr(m *image.YCbCr, y0, reduce int, row []float32) {
	minX, minY := m.Rect.Min.X, m.Rect.Min.Y
	halve := m.SubsampleRatio == image.YCbCrSubsampleRatio420 || m.SubsampleRatio == image.YCbCrSubsampleRatio422
	for y := y0; y < y0+reduce; y++ {
		luma := m.Y[m.YOffset(minX, minY+y):]
		c := m.COffset(minX, minY+y)
		cb, cr := m.Cb[c:], m.Cr[c:]
		px := 0
		for x := 0; x < len(row); x += 3 {
			for range reduce {
				k := px
				if halve {
					k = (px + minX&1) >> 1
				} else if m.SubsampleRatio != image.YCbCrSubsampleRatio444 && m.SubsampleRatio != image.YCbCrSubsampleRatio440 {
					k = m.COffset(minX+px, minY+y) - c
				}
				row[x] += float32(luma[px])
				row[x+1] += float32(cb[k])
				row[x+2] += float32(cr[k])
				px++
			}
		}
	}
	// The last row of the block is in: convert the sums in place.
	n := float32(reduce * reduce)
	for x := 0; x < len(row); x += 3 {
		yy, cb, cr := row[x], row[x+1]-128*n, row[x+2]-128*n
		row[x] = yy + 1.402*cr
		row[x+1] = yy - 0.344136*cb - 0.714136*cr
		row[x+2] = yy + 1.772*cb
	}
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
	for i := 0; i < len(p.l); i += 7 {
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
