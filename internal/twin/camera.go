package twin

import (
	"context"
	"errors"
	"fmt"
	"time"

	"boardhand/internal/sight"
)

// frameTime is the time from one picture to the next, s: a webcam that is read
// five times a second.
const frameTime = 0.2

// Camera is the twin's camera as the session sees it.
type Camera struct{ w *World }

// Camera gives the handle to the pictures.
func (w *World) Camera() *Camera { return &Camera{w} }

// ErrNoPicture says that the camera did not deliver; the next look may.
var ErrNoPicture = errors.New("the camera delivered no picture: check its cable, then look again")

// evening is when world time began: any fixed moment, so that runs repeat.
var evening = time.Date(2026, time.January, 6, 19, 0, 0, 0, time.UTC)

// Look waits for the next picture.
func (c *Camera) Look(ctx context.Context) (sight.Picture, error) {
	w := c.w
	if err := w.sleep(ctx, frameTime); err != nil {
		return sight.Picture{}, err
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	switch {
	case w.moving.Load(): // time is the stroke's
	case w.opts.Pace > 0:
		w.person.elapse(frameTime)
	default:
		w.person.jump()
	}
	if w.unkept != nil {
		return sight.Picture{}, w.unkept
	}
	name := fmt.Sprintf("%06d", w.studio.taken)
	w.studio.taken++
	if err := w.studio.mishap(w.faults); err != nil {
		w.acts(CameraDrop)
		w.acts(PictureLost)
		return sight.Picture{}, err
	}
	taken := evening.Add(time.Duration(w.now * float64(time.Second)))
	if last := w.studio.shutter.last; last != nil && w.studio.shutter.freezes() {
		w.acts(PictureFrozen)
		return sight.Picture{Name: name, Taken: taken, JPEG: last.JPEG, Image: last.Image}, nil
	}
	jpg, img, err := w.studio.shoot(w)
	if err != nil {
		return sight.Picture{}, fmt.Errorf("picture %s: %w", name, err)
	}
	p := sight.Picture{Name: name, Taken: taken, JPEG: jpg, Image: img}
	w.studio.shutter.last = &p
	return p, nil
}
