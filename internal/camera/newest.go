// SPDX-License-Identifier: Apache-2.0

package camera

import (
	"context"
	"fmt"
	"sync"
	"time"

	"boardhand/internal/photo"
)

// newest keeps the newest picture of a camera that sends them by itself, so that a
// slow reader sees the present and not the past.
type newest struct {
	name string // of the camera, in messages

	mu    sync.Mutex
	data  []byte
	taken time.Time
	count int
	err   error
	fresh chan struct{} // a picture or an error has come
}

func waiting(name string) *newest { return &newest{name: name, fresh: make(chan struct{}, 1)} }

// Look waits for a picture newer than the last one looked at.
func (s *newest) Look(ctx context.Context) (photo.Picture, error) {
	timer := time.NewTimer(silence)
	defer timer.Stop()
	select {
	case <-ctx.Done():
		return photo.Picture{}, ctx.Err()
	case <-timer.C:
		return photo.Picture{}, fmt.Errorf("%s sent no picture for %v: check its power and its cable", s.name, silence)
	case <-s.fresh:
	}
	s.mu.Lock()
	data, taken, name, err := s.data, s.taken, fmt.Sprintf("picture_%05d", s.count), s.err
	s.err = nil
	select { // both are taken, if an error has come beside the picture
	case <-s.fresh:
	default:
	}
	s.mu.Unlock()
	if err != nil {
		return photo.Picture{}, err
	}
	p, err := Decode(name, data)
	p.Taken = taken
	return p, err
}

// put hands over a picture or an error, replacing one not yet looked at.
func (s *newest) put(data []byte, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err == nil {
		s.data, s.taken = data, time.Now()
		s.count++
	}
	s.err = err
	select {
	case s.fresh <- struct{}{}:
	default:
	}
}
