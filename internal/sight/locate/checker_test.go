// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"encoding/json"
	"image"
	"math"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"testing"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
)

// samplePictures is where Debian's package opencv-doc puts OpenCV's pictures.
const samplePictures = "/usr/share/doc/opencv-doc/examples/data"

// referenceCorners reads the corners OpenCV 4.6.0 finds in left01…left14.
func referenceCorners(t *testing.T) (names []string, corners map[string][]frame.Spot[frame.Image]) {
	t.Helper()
	text, err := os.ReadFile("testdata/opencv-left-corners.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ Images map[string][][2]float64 }
	if err := json.Unmarshal(text, &file); err != nil {
		t.Fatal(err)
	}
	corners = map[string][]frame.Spot[frame.Image]{}
	for name, list := range file.Images {
		names = append(names, name)
		for _, p := range list {
			corners[name] = append(corners[name], frame.Spot[frame.Image]{X: p[0], Y: p[1]})
		}
	}
	sort.Strings(names)
	return names, corners
}

func openPicture(t *testing.T, path string) image.Image {
	t.Helper()
	f, err := os.Open(path)
	if os.IsNotExist(err) {
		t.Skipf("%s is not here: install Debian's package opencv-doc to run this check against OpenCV's own pictures", path)
	}
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, _, err := image.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// strayReference: a reference corner this many px from OpenCV's own fit to all
// of them is one where its refinement ran off (left02, column 0: up to 4.8 px;
// left13, column 8: 2.7 px; the rest of a picture lies within 0.2 px RMS).
const strayReference = 0.7

// Corners of OpenCV's sample pictures against those OpenCV 4.6.0 finds: RMS
// distance below 0.15 px in each picture, leaving out the reference's strays.
func TestCheckerOfSamplePictures(t *testing.T) {
	names, want := referenceCorners(t)
	off := referenceMiss(t, names, want)
	strays := 0
	for k, name := range names {
		c, err := FindChecker(openPicture(t, filepath.Join(samplePictures, name)), 9, 6)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		var sum, n, all float64
		flip := want[name][0].Distance(c.Corners[0]) > want[name][0].Distance(c.Corners[53])
		for i, p := range want[name] {
			q := c.Corners[i]
			if flip {
				q = c.Corners[53-i]
			}
			d := p.Distance(q)
			all += d * d
			if off[k][i] > strayReference {
				strays++
				continue
			}
			sum, n = sum+d*d, n+1
		}
		t.Logf("%s: RMS %.3f px over %v corners (all 54: %.3f)", name, math.Sqrt(sum/n), n, math.Sqrt(all/54))
		if math.Sqrt(sum/n) > 0.15 {
			t.Errorf("%s: corners are %.3f px RMS from the reference, 0.15 allowed", name, math.Sqrt(sum/n))
		}
	}
	if strays > 14 { // 2 % of 702: more would be picking
		t.Errorf("%d reference corners left out", strays)
	}
}

// referenceMiss is how far each reference corner lies from OpenCV's lens
// (calibrated without left02, the view it spoils) with the picture's pose
// fitted to those corners that agree.
func referenceMiss(t *testing.T, names []string, corners map[string][]frame.Spot[frame.Image]) [][]float64 {
	t.Helper()
	var seen [][]optics.Corner
	for _, name := range names {
		if name != "left02.jpg" {
			seen = append(seen, onSheet(corners[name]))
		}
	}
	c, err := optics.Calibrate(seen, optics.Free([2]int{640, 480}, 3, true, false))
	if err != nil {
		t.Fatal(err)
	}
	var out [][]float64
	for _, name := range names {
		out = append(out, missOf(t, c.Lens, onSheet(corners[name])))
	}
	return out
}

func missOf(t *testing.T, lens optics.Lens, all []optics.Corner) []float64 {
	t.Helper()
	miss, kept := make([]float64, len(all)), all
	for {
		v, err := optics.PoseFromPlane(lens, kept)
		if err != nil {
			t.Fatal(err)
		}
		f, err := optics.Fit(v, kept, optics.Prior{Lens: lens})
		if err != nil {
			t.Fatal(err)
		}
		worst := -1
		for i, c := range all {
			px, _ := f.View.Project(c.Board)
			if miss[i] = px.Distance(c.Seen); miss[i] > strayReference && (worst < 0 || miss[i] > miss[worst]) && slices.Contains(kept, c) {
				worst = i
			}
		}
		if worst < 0 {
			return miss
		}
		kept = slices.DeleteFunc(slices.Clone(kept), func(c optics.Corner) bool { return c == all[worst] })
	}
}

// onSheet places 9 × 6 corners on a sheet with squares of one unit.
func onSheet(spots []frame.Spot[frame.Image]) []optics.Corner {
	out := make([]optics.Corner, len(spots))
	for i, p := range spots {
		out[i] = optics.Corner{Board: frame.Point[frame.Board]{X: float64(i % 9), Y: float64(i / 9)}, Seen: p}
	}
	return out
}

// A checkerboard is not found where there is none, or less of it.
func TestCheckerRefuses(t *testing.T) {
	if _, err := FindChecker(image.NewGray(image.Rect(0, 0, 640, 480)), 9, 6); err == nil {
		t.Error("finds a checkerboard on a black picture")
	}
	if _, err := FindChecker(image.NewGray(image.Rect(0, 0, 640, 480)), 2, 6); err == nil {
		t.Error("accepts two columns")
	}
	if _, err := FindChecker(image.NewGray(image.Rect(0, 0, 3, 3)), 9, 6); err == nil {
		t.Error("finds a checkerboard in nine pixels")
	}
	if c, err := FindChecker(openPicture(t, filepath.Join(samplePictures, "left01.jpg")), 9, 7); err == nil {
		t.Errorf("finds 9 × 7 corners where there are 9 × 6: %v", c.Corners)
	}
}
