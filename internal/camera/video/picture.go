// SPDX-License-Identifier: Apache-2.0

package video

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/jpeg"
)

// JPEG is the picture as a file that any program reads. Motion JPEG leaves out the
// Huffman tables, which are always the same: they are put in (ITU-T T.81, K.3).
// YUYV is compressed.
func (f Frame) JPEG() ([]byte, error) {
	if f.Format == MJPG {
		return withTables(f.Data), nil
	}
	img, err := f.image()
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	err = jpeg.Encode(&b, img, &jpeg.Options{Quality: keptQuality})
	return b.Bytes(), err
}

// Image is the picture of a YUYV frame; motion JPEG must be decoded.
func (f Frame) image() (image.Image, error) {
	if f.Format != YUYV || f.Width%2 != 0 || len(f.Data) < f.Stride*f.Height {
		return nil, fmt.Errorf("%d bytes of %v make no picture of %d × %d", len(f.Data), f.Format, f.Width, f.Height)
	}
	m := image.NewYCbCr(image.Rect(0, 0, f.Width, f.Height), image.YCbCrSubsampleRatio422)
	for y := range f.Height {
		row := f.Data[y*f.Stride:]
		for x := range f.Width / 2 {
			m.Y[y*m.YStride+2*x], m.Y[y*m.YStride+2*x+1] = fullRange(row[4*x]), fullRange(row[4*x+2])
			m.Cb[y*m.CStride+x], m.Cr[y*m.CStride+x] = fullChroma(row[4*x+1]), fullChroma(row[4*x+3])
		}
	}
	return m, nil
}

// fullRange widens brightness from 16–235, as video has it (ITU-R BT.601), to the
// 0–255 of JPEG.
func fullRange(y byte) byte { return stretched(int(y)-16, 219, 0) }

// fullChroma widens colour from 16–240 about 128.
func fullChroma(c byte) byte { return stretched(int(c)-128, 224, 128) }

func stretched(v, span, middle int) byte {
	return byte(min(max((v*255*2+span)/(2*span)+middle, 0), 255))
}

// Markers of a JPEG file (ITU-T T.81, table B.1).
const (
	startOfImage = 0xd8
	huffman      = 0xc4
	startOfScan  = 0xda
)

// withTables puts the standard Huffman tables before the scan of a JPEG file that
// has none; any other is given back as it is.
func withTables(data []byte) []byte {
	if len(data) < 4 || data[0] != 0xff || data[1] != startOfImage {
		return data
	}
	for k := 2; k+4 <= len(data) && data[k] == 0xff; {
		switch marker := data[k+1]; marker {
		case huffman:
			return data
		case startOfScan:
			return bytes.Join([][]byte{data[:k], standardTables(), data[k:]}, nil)
		case 0xff: // fill
			k++
			continue
		}
		k += 2 + int(binary.BigEndian.Uint16(data[k+2:]))
	}
	return data
}
