// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"context"
	"errors"
	"fmt"
	"time"

	"boardhand/internal/photo"
	"boardhand/internal/twin/lens"
)

// Camera is the twin's camera as the session sees it.
type Camera struct{ w *World }

// Camera gives the handle to the pictures.
func (w *World) Camera() *Camera { return &Camera{w} }

// ErrNoPicture says that the camera did not deliver; the next look may.
var ErrNoPicture = lens.ErrNoPicture

// evening is when world time began: any fixed moment, so that runs repeat.
var evening = time.Date(2026, time.January, 6, 19, 0, 0, 0, time.UTC)

// Look waits for the next picture.
func (c *Camera) Look(ctx context.Context) (photo.Picture, error) {
	w := c.w
	if err := w.sleep(ctx, frameTime); err != nil {
		return photo.Picture{}, err
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	switch {
	case w.moving.Load(): // time is the stroke's
	case w.opts.Pace > 0:
		w.person.Elapse(frameTime)
	default:
		w.person.Jump(frameTime)
	}
	return w.take()
}

// take takes a picture of the world as it is now.
func (w *World) take() (photo.Picture, error) {
	if w.unkept != nil {
		return photo.Picture{}, w.unkept
	}
	p, err := w.studio.Take(w.scene())
	switch {
	case errors.Is(err, ErrNoPicture):
		w.acts(CameraDrop)
		w.acts(PictureLost)
		return photo.Picture{}, err
	case err != nil:
		return photo.Picture{}, err
	case p.IsFrozen:
		w.acts(PictureFrozen)
	}
	taken := evening.Add(time.Duration(w.now * float64(time.Second)))
	return photo.Picture{Name: fmt.Sprintf("%06d", p.Number), Taken: taken, JPEG: p.JPEG, Image: p.Image}, nil
}

// During runs a motion and shows look the pictures that come while the carriage is
// under way, in world time, so that the same seed gives the same run. Of pictures
// that show no hand only those after one that did are taken, unless
// Options.AllPictures wants them all: a machine that looks sees nothing new on them.
func (c *Camera) During(ctx context.Context, motion func(context.Context) error, look func(context.Context, photo.Picture, error)) error {
	w := c.w
	w.mu.Lock()
	w.onlooker = onlooker{look: look, until: w.now + frameTime}
	w.mu.Unlock()
	defer func() {
		w.mu.Lock()
		w.onlooker = onlooker{}
		w.mu.Unlock()
	}()
	return motion(ctx)
}

// show shows the onlooker a picture, if one is due.
func (w *World) show(ctx context.Context) {
	o := &w.onlooker
	if o.look == nil || w.now < o.until {
		return
	}
	o.until = w.now + frameTime
	if !w.isNews(w.held.Load()) {
		return
	}
	p, err := w.take()
	look := o.look
	w.mu.Unlock()
	defer w.mu.Lock()
	look(ctx, p, err)
}

// isNews says whether the picture that is due shows anything to somebody who saw the last
// one.
func (w *World) isNews(isHeld bool) bool {
	isOut, wasOut := w.person.Hand().IsOut, w.onlooker.busy
	w.onlooker.busy = isOut
	return isOut || wasOut || isHeld || w.opts.AllPictures
}

// Glimpse is the picture that is due while a controller from outside has the motors;
// false where it shows no hand, as with During. It is asked for once a picture's time:
// where the motors stood all the while, that passes for the person all the same.
func (c *Camera) Glimpse() (photo.Picture, bool, error) {
	w := c.w
	w.mu.Lock()
	defer w.mu.Unlock()
	isStill := w.now == w.onlooker.until
	if isStill {
		w.person.Elapse(frameTime)
	}
	w.onlooker.until = w.now
	if !w.isNews(isStill) {
		return photo.Picture{}, false, nil
	}
	p, err := w.take()
	return p, true, err
}
