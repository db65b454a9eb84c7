// SPDX-License-Identifier: Apache-2.0

package camera

import (
	"cmp"
	"context"
	"fmt"
	"sync"
	"time"

	"boardhand/internal/camera/video"
	"boardhand/internal/devname"
)

// Video is a camera on this computer's video interface. It goes on by itself when
// the camera is unplugged and comes back, under another number too.
type Video struct {
	*newest
	path string
	wish video.Wish
	open opening
	stop context.CancelFunc
	done chan struct{}

	mu    sync.Mutex
	about video.About
}

// device is what is asked of one opening of a camera.
type device interface {
	Next(most time.Duration) (video.Frame, error)
	Hold() error
	Told() video.About
	Close() error
}

type opening func(path string, w video.Wish) (device, error)

// OpenVideo opens the device at a path, "/dev/video0" or one of /dev/v4l/by-id, in
// a size in pixels. Exposure, white balance and focus are held once they have settled.
func OpenVideo(ctx context.Context, path string, width, height int) (*Video, error) {
	return openVideo(ctx, path, video.Wish{Width: width, Height: height, Rate: wantedRate}, func(path string, w video.Wish) (device, error) {
		d, err := video.Open(path, w)
		if err != nil {
			return nil, err
		}
		return d, nil
	})
}

func openVideo(ctx context.Context, path string, w video.Wish, open opening) (*Video, error) {
	stable := cmp.Or(devname.Lasting(byID, path), path)
	d, err := open(stable, w)
	if err != nil {
		return nil, err
	}
	ctx, stop := context.WithCancel(ctx)
	v := &Video{newest: waiting("the camera " + path), path: stable, wish: w, open: open, stop: stop, done: make(chan struct{})}
	go v.run(ctx, d)
	return v, nil
}

// byID is where the system names cameras by what they are.
const byID = "/dev/v4l/by-id"

// Close stops the pictures.
func (v *Video) Close() {
	v.stop()
	<-v.done
}

// About is what the camera was found to be.
func (v *Video) About() video.About {
	v.mu.Lock()
	defer v.mu.Unlock()
	return v.about
}

// run takes pictures until ctx ends, and opens the device again when it broke.
func (v *Video) run(ctx context.Context, d device) {
	defer close(v.done)
	for {
		err := v.pump(ctx, d)
		_ = d.Close() // it failed, or nobody wants it any more
		for ctx.Err() == nil {
			v.put(nil, fmt.Errorf("the camera %s has stopped: %w; check its plug (trying again)", v.path, err))
			select {
			case <-ctx.Done():
			case <-time.After(retry):
			}
			if d, err = v.open(v.path, v.wish); err == nil {
				break
			}
		}
		if ctx.Err() != nil {
			return
		}
	}
}

// pump hands over picture after picture of one opening.
func (v *Video) pump(ctx context.Context, d device) error {
	v.note(d)
	for k := 1; ctx.Err() == nil; k++ {
		f, err := d.Next(silence)
		if err != nil {
			return err
		}
		data, err := f.JPEG()
		if err != nil {
			return err
		}
		if k == settling {
			if err := d.Hold(); err != nil {
				return err
			}
			v.note(d)
		}
		if k > settling { // the first ones are too dark, too bright or blurred
			v.put(data, nil)
		}
	}
	return ctx.Err()
}

func (v *Video) note(d device) {
	v.mu.Lock()
	defer v.mu.Unlock()
	v.about = d.Told()
}
