// SPDX-License-Identifier: Apache-2.0

package clock_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"boardhand/internal/gantry/clock"
)

// Hours pass in a moment, and everybody is woken when their time comes, in the same
// order each time.
func TestVirtualOrder(t *testing.T) {
	once := func() (log []string) {
		v := clock.NewVirtual()
		for _, name := range []string{"a", "b", "c"} {
			v.Go(func() {
				for k := range 3 {
					v.Wait(time.Duration(len(log)%2+1) * time.Hour)
					log = append(log, fmt.Sprintf("%s%d at %v", name, k, v.Passed()))
				}
			})
		}
		v.Wait(20 * time.Hour)
		return append(log, v.Passed().String())
	}
	first := once()
	if len(first) != 10 || first[9] != "20h0m0s" {
		t.Fatal(first)
	}
	for range 20 {
		if again := once(); !slices.Equal(first, again) {
			t.Fatalf("%v, then %v", first, again)
		}
	}
}

// Who waits for a channel goes on when it is closed, at the time when it is closed, and
// is told which; a closed channel comes before the time.
func TestVirtualChannels(t *testing.T) {
	v := clock.NewVirtual()
	shut, open := make(chan struct{}), make(chan struct{})
	v.Go(func() {
		v.Wait(time.Minute)
		close(shut)
	})
	if k := v.Wait(1<<63-1, open, nil, shut); k != 2 || v.Passed() != time.Minute {
		t.Errorf("woken by %d at %v", k, v.Passed())
	}
	if k := v.Wait(0, shut); k != 0 {
		t.Errorf("woken by %d", k)
	}
	if k := v.Wait(time.Second, open); k != -1 || v.Passed() != time.Minute+time.Second {
		t.Errorf("woken by %d at %v", k, v.Passed())
	}
}
