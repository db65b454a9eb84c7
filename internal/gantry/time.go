// SPDX-License-Identifier: Apache-2.0

package gantry

import (
	"context"
	"math"
	"time"
)

// Clock is the time that a driver waits by. A driver does all its waiting through it, so
// that a rehearsal may let hours of waiting pass in a moment.
type Clock interface {
	// Now is the time of day there.
	Now() time.Time
	// Wait waits until one of the channels is closed and says which, or −1 when the time
	// has passed before. Of several that are closed it says the first. A nil channel is
	// never closed.
	Wait(d time.Duration, over ...<-chan struct{}) int
	// Go runs something beside whoever calls it.
	Go(do func())
}

// Forever is a time to wait that does not end.
const Forever = time.Duration(math.MaxInt64)

// RealTime is the clock on the wall.
type RealTime struct{}

// Now is the time of day.
func (RealTime) Now() time.Time { return time.Now() }

// Wait waits for at most three channels.
func (RealTime) Wait(d time.Duration, over ...<-chan struct{}) int {
	var first [3]<-chan struct{}
	copy(first[:], over)
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-first[0]:
	case <-first[1]:
	case <-first[2]:
	case <-timer.C:
	}
	for i, c := range first {
		select {
		case <-c:
			return i
		default:
		}
	}
	return -1
}

// Go starts a goroutine.
func (RealTime) Go(do func()) { go do() }

// Pause lets time pass; its error is why the context ended meanwhile.
func Pause(ctx context.Context, c Clock, d time.Duration) error {
	if d <= 0 || c.Wait(d, ctx.Done()) < 0 {
		return nil
	}
	return context.Cause(ctx)
}
