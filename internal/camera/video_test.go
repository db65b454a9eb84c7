// SPDX-License-Identifier: Apache-2.0

package camera

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/jpeg"
	"strings"
	"testing"
	"time"

	"boardhand/internal/camera/video"
)

// fake is a camera that breaks after some pictures.
type fake struct {
	lives  int
	frame  video.Frame
	held   bool
	closed chan<- struct{}
}

func (f *fake) Next(time.Duration) (video.Frame, error) {
	if f.lives--; f.lives < 0 {
		return video.Frame{}, errors.New("the device is gone")
	}
	return f.frame, nil
}

func (f *fake) Hold() error {
	f.held = true
	return nil
}

func (f *fake) Told() video.About {
	a := video.About{Card: "fake"}
	if f.held {
		a.Held = []string{"focus"}
	}
	return a
}

func (f *fake) Close() error {
	f.closed <- struct{}{}
	return nil
}

// A camera that is unplugged is told of, and goes on when it is back; each opening
// is closed once.
func TestVideoComesBack(t *testing.T) {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 16, 8)), nil); err != nil {
		t.Fatal(err)
	}
	closed := make(chan struct{}, 9)
	opened := 0
	v, err := openVideo(t.Context(), "/dev/none", video.Wish{Width: 16, Height: 8}, func(string, video.Wish) (device, error) {
		if opened++; opened == 2 {
			return nil, errors.New("no such device")
		}
		lives := settling + 1
		if opened > 2 {
			lives = 1 << 30
		}
		return &fake{lives: lives, frame: video.Frame{Format: video.MJPG, Data: b.Bytes()}, closed: closed}, nil
	})
	if err != nil {
		t.Fatal(err)
	}
	isTold := false
	for { // pictures and complaints replace one another when nobody looks
		p, err := v.Look(t.Context())
		if err != nil {
			isTold = true
			if !strings.HasPrefix(err.Error(), "the camera /dev/none has stopped: ") {
				t.Fatal(err)
			}
			continue
		}
		if p.Image.Bounds().Dx() != 16 || len(p.JPEG) == 0 {
			t.Fatalf("a picture of %v", p.Image.Bounds())
		}
		if isTold {
			break
		}
	}
	if a := v.About(); a.Card != "fake" || len(a.Held) != 1 {
		t.Errorf("%+v", a)
	}
	v.Close()
	if opened != 3 || len(closed) != 2 {
		t.Errorf("opened %d times, closed %d", opened, len(closed))
	}
}

func TestOpenSaysWhatToWrite(t *testing.T) {
	for source, want := range map[string]string{
		"webcam":              `write "v4l2:/dev/video0"`,
		"v4l2:/dev/nothing":   "plug the camera in",
		"v4l2:" + t.TempDir(): "is no camera",
		"folder:/nowhere":     "no such folder",
	} {
		_, err := Open(context.Background(), source, [2]int{640, 480})
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", source, err)
		}
	}
}
