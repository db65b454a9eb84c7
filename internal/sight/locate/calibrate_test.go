// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"image"
	"math"
	"path/filepath"
	"testing"

	"boardhand/internal/optics"
)

func samplePicturesInOrder(t *testing.T) []image.Image {
	t.Helper()
	names, _ := referenceCorners(t)
	var out []image.Image
	for _, name := range names {
		out = append(out, openPicture(t, filepath.Join(samplePictures, name)))
	}
	return out
}

// OpenCV's calibration of its sample pictures (4.6.0, five coefficients),
// without the view its corner refinement spoils and with the standard
// deviations it states, against ours from the pictures alone. Two independent
// sets of corners: each parameter within three of its standard deviations.
func TestCalibrateLensFromSamplePictures(t *testing.T) {
	target := Target{Columns: 9, Rows: 6, Square: 0.025}
	var seen [][]optics.Corner
	for i, p := range samplePicturesInOrder(t) {
		c, err := target.Corners(p)
		if err != nil {
			t.Fatalf("picture %d: %v", i+1, err)
		}
		for k := range c {
			c[k].Sigma = 0 // every corner counts the same, as in OpenCV
		}
		seen = append(seen, c)
	}
	got, err := optics.Calibrate(seen, optics.Free([2]int{640, 480}, 3, true, false))
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("RMS %.4f px (OpenCV: 0.4088 with its corners, 0.2341 without left02)", got.RMS)
	if got.RMS > 0.2341 {
		t.Errorf("RMS %.4f px", got.RMS)
	}
	want := [9]float64{534.1321, 534.1867, 342.8441, 233.7187, -0.275881, 0.004849, 0.001252, 0.000015, 0.180140}
	sigma := [9]float64{0.9173, 0.9313, 0.8502, 0.9443, 0.009934, 0.076181, 0.00021037, 0.00025755, 0.163124}
	l := got.Lens
	for i, p := range [9]float64{l.Fx, l.Fy, l.Cx, l.Cy, l.K1, l.K2, l.P1, l.P2, l.K3} {
		t.Logf("parameter %d: %.6f, OpenCV %.6f ± %.6f", i, p, want[i], sigma[i])
		if math.Abs(p-want[i]) > 3*sigma[i] {
			t.Errorf("parameter %d: %.6f, OpenCV %.6f ± %.6f", i, p, want[i], sigma[i])
		}
	}
}

// What bringup calls: pictures in, lens out; pictures without the sheet and of
// another size are dealt with.
func TestCalibrateLens(t *testing.T) {
	target := Target{Columns: 9, Rows: 6, Square: 0.025}
	pictures := samplePicturesInOrder(t)
	blank := image.NewGray(image.Rect(0, 0, 640, 480))
	c, used, err := CalibrateLens(append(pictures[:6:6], blank), target)
	if err != nil || len(used) != 6 || math.Abs(c.Lens.Fx-534.13) > 5 || c.RMS > 0.3 {
		t.Errorf("lens %+v, RMS %v, pictures %v, %v", c.Lens, c.RMS, used, err)
	}
	if _, used, err := CalibrateLens(pictures[:3], target); err == nil || len(used) != 3 {
		t.Errorf("calibrates from three pictures: %v, %v", used, err)
	}
	if _, _, err := CalibrateLens([]image.Image{pictures[0], image.NewGray(image.Rect(0, 0, 320, 240))}, target); err == nil {
		t.Error("mixes pictures of two sizes")
	}
}
