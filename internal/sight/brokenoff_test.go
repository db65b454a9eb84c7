// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"
	"errors"
	"testing"
	"time"
)

// breaking is a context that ends when it has been asked so many times.
type breaking struct {
	context.Context
	left int
	done chan struct{}
}

func (c *breaking) Err() error {
	if c.left--; c.left < 0 {
		return context.Canceled
	}
	return nil
}

func (c *breaking) Done() <-chan struct{}       { return c.done }
func (c *breaking) Deadline() (time.Time, bool) { return time.Time{}, false }

// A reading that is broken off says so wherever that happens, and the next one is as if there had
// been none.
func TestReadingIsBrokenOffAnywhere(t *testing.T) {
	s := game(t)
	r := NewReader(s.setup)
	r.Begin(s.start)
	if got, err := r.Read(context.Background(), s.picture(t, 0)); err != nil || got.State != Same {
		t.Fatal(got.State, err)
	}
	for n := range 40 {
		r.pending = nil // as after a move
		c := &breaking{context.Background(), n, make(chan struct{})}
		_, err := r.Read(c, s.picture(t, 1))
		if err == nil {
			if n == 0 {
				t.Error("it was not broken off")
			}
			break
		}
		if !errors.Is(err, context.Canceled) {
			t.Fatalf("asked %d times: %v", n, err)
		}
	}
	if _, err := r.Read(context.Background(), s.picture(t, 1)); err != nil {
		t.Error(err)
	}
}
