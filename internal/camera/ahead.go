// SPDX-License-Identifier: Apache-2.0

package camera

import (
	"context"
	"errors"
	"io"

	"boardhand/internal/photo"
)

// Ahead delivers the pictures of a folder in name order, as the folder would, and unpacks the
// next ones meanwhile on other cores.
type Ahead struct {
	from    *Folder
	most    int
	prepare func(photo.Picture) photo.Picture
	waiting []chan unpacked // in name order
}

// unpacked is what Look of a folder returns.
type unpacked struct {
	picture photo.Picture
	err     error
}

// NewAhead unpacks so many pictures of a folder ahead, and prepares each for its reader.
func NewAhead(from *Folder, most int, prepare func(photo.Picture) photo.Picture) *Ahead {
	return &Ahead{from: from, most: most, prepare: prepare}
}

// Look returns the next picture, or io.EOF after the last, as Folder.Look does.
func (a *Ahead) Look(ctx context.Context) (photo.Picture, error) {
	if err := ctx.Err(); err != nil {
		return photo.Picture{}, err
	}
	for len(a.waiting) <= a.most && a.unpackNext() {
	}
	if len(a.waiting) == 0 {
		return photo.Picture{}, io.EOF
	}
	select {
	case got := <-a.waiting[0]:
		a.waiting = a.waiting[1:]
		return got.picture, got.err
	case <-ctx.Done():
		return photo.Picture{}, ctx.Err()
	}
}

// unpackNext begins to unpack one more picture; false after the last.
func (a *Ahead) unpackNext() bool {
	look, err := a.from.take()
	if errors.Is(err, io.EOF) {
		return false
	}
	to := make(chan unpacked, 1) // nobody may ask any more
	a.waiting = append(a.waiting, to)
	go func() {
		p, err := look()
		if err == nil {
			p = a.prepare(p)
		}
		to <- unpacked{p, err}
	}()
	return true
}
