// SPDX-License-Identifier: Apache-2.0

package fake

import (
	"sync"
	"time"
)

// Clock is a clock by which only the listed times pass, in that order, and at
// once; no other ever does, nor does one that is listed as negative.
func Clock(times ...time.Duration) func(time.Duration) <-chan time.Time {
	var mu sync.Mutex
	return func(d time.Duration) <-chan time.Time {
		mu.Lock()
		defer mu.Unlock()
		if len(times) == 0 || max(times[0], -times[0]) != d {
			return nil
		}
		passes := times[0] > 0
		if times = times[1:]; !passes {
			return nil
		}
		c := make(chan time.Time, 1)
		c <- time.Time{}
		return c
	}
}
