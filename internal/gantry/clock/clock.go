// SPDX-License-Identifier: Apache-2.0

// Package clock is time for test beds: real time run faster or slower. Inside a
// testing/synctest bubble real time is that of the bubble, so that a test never
// waits and always finds the same order of events.
package clock

import "time"

// Clock counts bed time from its start.
type Clock struct {
	start time.Time
	pace  float64 // bed seconds in a real second
}

// New starts a clock; pace is bed seconds in a real second, above 0.
func New(pace float64) *Clock { return &Clock{time.Now(), pace} }

// Now is the bed time since the start.
func (c *Clock) Now() time.Duration {
	return time.Duration(float64(time.Since(c.start)) * c.pace)
}

// After sends when d of bed time has passed.
func (c *Clock) After(d time.Duration) <-chan time.Time { return time.After(c.real(d)) }

// Sleep lets d of bed time pass.
func (c *Clock) Sleep(d time.Duration) { time.Sleep(c.real(d)) }

// real is the real time of a stretch of bed time, rounded up so that the bed
// time has passed when it ends.
func (c *Clock) real(d time.Duration) time.Duration {
	return time.Duration(float64(d)/c.pace) + 1
}
