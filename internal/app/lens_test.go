// SPDX-License-Identifier: Apache-2.0

package app

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardhand/internal/frame"
	"boardhand/internal/measured"
	"boardhand/internal/optics"
	"boardhand/internal/rig"
)

// checkerboard draws a sheet of 8 × 6 squares of 30 mm as a camera of that lens
// sees it, tilted by turn (a rotation vector, radians).
func checkerboard(lens optics.Lens, turn [3]float64) image.Image {
	const square, columns, rows = 0.03, 8, 6
	pose := frame.Pose[frame.Camera, frame.Board]{R: frame.FromVector(turn).Mul(frame.FromVector([3]float64{math.Pi, 0, 0})),
		T: frame.Point[frame.Camera]{Z: 0.5}}
	v := optics.View{Lens: lens, CameraFromBoard: pose}
	img := image.NewGray(image.Rect(0, 0, 640, 480))
	for y := range 480 {
		for x := range 640 {
			sum := 0
			for k := range 4 { // four places a pixel
				px := frame.Spot[frame.Image]{X: float64(x) + float64(k%2)/2 - 0.25, Y: float64(y) + float64(k/2)/2 - 0.25}
				p, err := v.OnPlane(px, 0)
				i, j := math.Floor(p.X/square+columns/2), math.Floor(p.Y/square+rows/2)
				dark := err == nil && i >= 0 && j >= 0 && i < columns && j < rows && int(i+j)%2 == 0
				if dark {
					sum += 40
				} else {
					sum += 210
				}
			}
			img.SetGray(x, y, color.Gray{Y: uint8(sum / 4)})
		}
	}
	return img
}

func writePNG(t *testing.T, path string, img image.Image) {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// Pictures drawn through a known lens give that lens back.
func TestLensFromDrawnPictures(t *testing.T) {
	dir := t.TempDir()
	lens := optics.Ideal(640, 480, 2*math.Atan(320/600.0)) // f = 600 px
	for i, turn := range [][3]float64{{0.5, 0, 0}, {-0.5, 0, 0.2}, {0, 0.5, 0}, {0, -0.5, 0.1}, {0.35, 0.35, 0}, {-0.3, 0.4, 0.3}} {
		writePNG(t, filepath.Join(dir, fmt.Sprintf("%d.png", i)), checkerboard(lens, turn))
	}
	writePNG(t, filepath.Join(dir, "blank.png"), image.NewGray(image.Rect(0, 0, 640, 480)))
	var o, e bytes.Buffer
	if code := Main([]string{"lens", "--json", "--frames", dir, "--inner", "7x5", "--square", "30 mm"}, &o, &e); code != fine {
		t.Fatalf("code %d: %s", code, e.String())
	}
	var got lensLine
	if err := json.Unmarshal(o.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	want := 2 * math.Atan(320/600.0) * 180 / math.Pi
	if math.Abs(got.HFOV-want) > 0.2 || got.Pictures != 6 || len(got.LeftOut) != 1 || got.RMS > 0.3 {
		t.Errorf("got %+v, want an hfov of %.2f deg from 6 pictures", got, want)
	}
	if !(got.HFOVOff > 0 && got.HFOVOff < 0.5) {
		t.Errorf("hfov is said to be good to %g deg", got.HFOVOff)
	}
	keepsLens(t, dir)
}

// keepsLens keeps the lens beside a rig, where bring-up finds it; one of pictures of another
// size is refused.
func keepsLens(t *testing.T, frames string) {
	t.Helper()
	for image, want := range map[string]string{"[640, 480]": "", "[1280, 720]": "camera.image says 1280 × 720"} {
		at := filepath.Join(t.TempDir(), "rig.toml")
		text := strings.Replace(rig.DefaultText, "image = [1280, 720]", "image = "+image, 1)
		if err := os.WriteFile(at, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		code, _, errs := cli(t, "lens", "--frames", frames, "--inner", "7x5", "--square", "30 mm", "--rig", at)
		f, err := measured.Load(at)
		if err != nil || !strings.Contains(errs, want) || (code == fine) != (want == "") {
			t.Fatalf("%s: exit code %d, %s, %v", image, code, errs, err)
		}
		if f.Lens.IsKnown() != (want == "") || want == "" && (f.Lens.Pictures != 6 || math.Abs(f.Lens.Focal[0]-600) > 3*f.Lens.FocalSigma[0]+0.5 || f.Lens.Image != [2]int{640, 480}) {
			t.Errorf("%s: kept %+v", image, f.Lens)
		}
	}
}

func TestLensSaysWhatIsWrong(t *testing.T) {
	dir := t.TempDir()
	writePNG(t, filepath.Join(dir, "a.png"), image.NewGray(image.Rect(0, 0, 64, 48)))
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"lens"}, "frames"},
		{[]string{"lens", "--frames", filepath.Join(dir, "none")}, "no such folder"},
		{[]string{"lens", "--frames", dir, "--inner", "nine"}, "9x6"},
		{[]string{"lens", "--frames", dir, "--inner", "2x6"}, "3 or more"},
		{[]string{"lens", "--frames", dir, "--square", "0 mm"}, "above 0"},
		{[]string{"lens", "--frames", dir}, "seen whole in 0 of 1"},
	} {
		var o, e bytes.Buffer
		if code := Main(c.args, &o, &e); code != badInput || !strings.Contains(e.String(), c.want) {
			t.Errorf("%v: code %d, %q; want %q", c.args, code, e.String(), c.want)
		}
	}
}
