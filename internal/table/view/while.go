// SPDX-License-Identifier: Apache-2.0

package view

import (
	"context"

	"boardhand/internal/photo"
)

// Stream shows the pictures of a camera while something else goes on.
type Stream struct{ Camera Camera }

// During runs a motion and has look see each picture that comes meanwhile, or why none
// came; look is called from the caller's goroutine. It returns when the motion has ended,
// with what that says.
func (s Stream) During(ctx context.Context, motion func(context.Context) error, look func(context.Context, photo.Picture, error)) error {
	seeing, enough := context.WithCancel(ctx)
	ended := make(chan error, 1)
	go func() {
		defer enough()
		ended <- motion(ctx)
	}()
	for seeing.Err() == nil {
		pic, err := s.Camera.Look(seeing)
		if seeing.Err() == nil {
			look(seeing, pic, err)
		}
	}
	return <-ended
}
