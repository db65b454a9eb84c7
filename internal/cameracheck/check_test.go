// SPDX-License-Identifier: Apache-2.0

package cameracheck

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"image"
	"image/color"
	"io"
	"strings"
	"testing"
	"time"

	"boardhand/internal/camera/video"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/photo"
	"boardhand/internal/rig"
	"boardhand/internal/terminal"
)

// eye shows the same picture again and again; a nil one does not come.
type eye struct {
	pictures []*photo.Picture
	next     int
	about    video.About
}

func (e *eye) Look(context.Context) (photo.Picture, error) {
	if e.next >= len(e.pictures) {
		return photo.Picture{}, io.EOF
	}
	p := e.pictures[e.next]
	if e.next++; p == nil {
		return photo.Picture{}, errors.New("the cable is loose")
	}
	return *p, nil
}

func (e *eye) About() video.About { return e.about }

// chequer is the board of the rig as its camera should see it.
func chequer(t *testing.T, r *rig.Rig) image.Image {
	t.Helper()
	c := r.Camera
	v, err := optics.Nominal(c.Image, float64(c.HFOV), float64(c.Height), c.WhiteSide)
	if err != nil {
		t.Fatal(err)
	}
	img, square := image.NewGray(image.Rect(0, 0, c.Image[0], c.Image[1])), float64(r.Board.Square)
	for y := range c.Image[1] {
		for x := range c.Image[0] {
			sum := 0
			for k := range 4 { // a pixel is an area
				at, err := v.OnPlane(frame.Spot[frame.Image]{X: float64(x) + float64(k%2)/2 - 0.25, Y: float64(y) + float64(k/2)/2 - 0.25}, 0)
				if err != nil {
					t.Fatal(err)
				}
				i, j := int(at.X/square+100)-96, int(at.Y/square+100)-96
				switch {
				case i < 0 || j < 0 || i > 7 || j > 7:
					sum += 90
				case (i+j)%2 == 0:
					sum += 60
				default:
					sum += 190
				}
			}
			img.SetGray(x, y, color.Gray{byte(sum / 4)})
		}
	}
	return img
}

func picture(img image.Image, at int, bytes string) *photo.Picture {
	return &photo.Picture{Image: img, JPEG: []byte(bytes), Taken: time.Unix(100, int64(at)*250e6)}
}

// A sharp, even board wants nothing changed; rate, height and scale are as they are.
func TestGoodCamera(t *testing.T) {
	r := rig.Default()
	img := chequer(t, r)
	e := &eye{pictures: []*photo.Picture{picture(img, 0, "a"), picture(img, 1, "b"), picture(img, 2, "c")}, about: video.About{Card: "Test", Held: []string{"focus"}}}
	res, err := Run(t.Context(), r, e, 3)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := res.Print(&terminal.Out{W: &out}); err != nil {
		t.Fatal(err, out.String())
	}
	for _, want := range []string{"Test, twin", "3 pictures, 4.0 a second", "held      focus", "found: ", "change    nothing"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%q is missing in\n%s", want, out.String())
		}
	}
	if d := res.view.Camera().Z - float64(r.Camera.Height); d > 0.01 || d < -0.01 {
		t.Errorf("the camera's height is off by %.1f mm", d*1e3)
	}
	if seen := res.Picture(); seen.Bounds().Dx() < r.Camera.Image[0] {
		t.Errorf("the picture is %v", seen.Bounds())
	}
}

// A board that is seen larger than at bring-up tells of a zoom that was turned since.
func TestZoomTurned(t *testing.T) {
	r := rig.Default()
	r.Path = "mine/rig.toml"
	v, err := optics.Nominal(r.Camera.Image, float64(r.Camera.HFOV), float64(r.Camera.Height), r.Camera.WhiteSide)
	if err != nil {
		t.Fatal(err)
	}
	img := chequer(t, r)
	for wider, want := range map[float64]string{1: "", 1.03: "The board is seen 3.0 % larger than when bring-up measured the camera, from the same side: if zoom or focus were turned, run `boardhand bringup mine/rig.toml --again lens`"} {
		seen := v
		seen.Lens.Fx, seen.Lens.Fy = v.Lens.Fx/wider, v.Lens.Fy/wider // at bring-up it saw wider
		r.Seen, r.Hung = &seen, true
		res, err := Run(t.Context(), r, &eye{pictures: []*photo.Picture{picture(img, 0, "a"), picture(img, 1, "b")}}, 2)
		if err != nil {
			t.Fatal(err)
		}
		if all := strings.Join(res.Advice, "\n"); !strings.Contains(all, want) || want == "" && strings.Contains(all, "bring-up") {
			t.Errorf("%g times wider: %q", wider, all)
		}
	}
}

// What is wrong is said, with what to do, and --json is one object.
func TestBadCameras(t *testing.T) {
	r := rig.Default()
	img := chequer(t, r)
	small := image.NewGray(image.Rect(0, 0, 640, 480))
	for name, c := range map[string]struct {
		pictures []*photo.Picture
		want     string
		is       error
	}{
		"frozen":     {[]*photo.Picture{picture(img, 0, "a"), picture(img, 1, "a"), picture(img, 2, "a")}, "The same picture came 3 times", nil},
		"loose":      {[]*photo.Picture{picture(img, 0, "a"), nil, picture(img, 2, "c")}, "1 pictures did not come; the last time: the cable is loose", nil},
		"wrong size": {[]*photo.Picture{picture(small, 0, "a")}, "write image = [640, 480] into [camera]", terminal.ErrNo},
		"no board":   {[]*photo.Picture{picture(image.NewGray(img.Bounds()), 0, "a")}, "The board was not found", terminal.ErrNo},
	} {
		res, err := Run(t.Context(), r, &eye{pictures: c.pictures}, 5)
		if err != nil {
			t.Fatal(name, err)
		}
		var out bytes.Buffer
		if err := res.Print(&terminal.Out{W: &out, JSON: true}); !errors.Is(err, c.is) {
			t.Errorf("%s: %v", name, err)
		}
		var back Result
		if err := json.Unmarshal(out.Bytes(), &back); err != nil || !strings.Contains(strings.Join(back.Advice, " "), c.want) {
			t.Errorf("%s: %v\n%s", name, err, out.String())
		}
	}
	if _, err := Run(t.Context(), r, &eye{pictures: []*photo.Picture{nil}}, 5); err == nil || !strings.Contains(err.Error(), "the cable is loose") {
		t.Errorf("no picture: %v", err)
	}
}
