// SPDX-License-Identifier: Apache-2.0

package clock

import (
	"slices"
	"sync"
	"time"
)

// Virtual is time that passes only while everybody waits. Whoever lives in it waits
// through it alone; one runs at a time, and who is woken first is settled by who began
// to wait first. So the same run comes out the same, and no waiting takes any time
// unless a pace is set.
type Virtual struct {
	Pace float64 // its seconds in a real one, for who watches; 0: it jumps. Set before anybody waits

	mu      sync.Mutex
	now     time.Duration
	waiting []*waiter // in the order in which they began to
	running int
}

// waiter is somebody who waits, or is to start.
type waiter struct {
	until time.Duration
	over  []<-chan struct{}
	woken chan int
	start func() // nil: it has started
}

// NewVirtual starts time at nothing; who calls it is the first to live in it.
func NewVirtual() *Virtual { return &Virtual{running: 1} }

// birth is when virtual time began: any fixed moment.
var birth = time.Date(2026, time.January, 6, 19, 0, 0, 0, time.UTC)

// Now is the time of day there.
func (v *Virtual) Now() time.Time { return birth.Add(v.Passed()) }

// Passed is the time since the beginning.
func (v *Virtual) Passed() time.Duration {
	v.mu.Lock()
	defer v.mu.Unlock()
	return v.now
}

// Bed is virtual time for a test bed.
type Bed struct{ *Virtual }

// Now is the time since the beginning.
func (b Bed) Now() time.Duration { return b.Passed() }

// Wait waits until one of the channels is closed and says which, or −1 when the time
// has passed before.
func (v *Virtual) Wait(d time.Duration, over ...<-chan struct{}) int {
	v.mu.Lock()
	w := &waiter{until: v.after(d), over: over, woken: make(chan int, 1)}
	v.waiting = append(v.waiting, w)
	v.leave()
	v.mu.Unlock()
	return <-w.woken
}

// Go starts something when whoever runs now begins to wait.
func (v *Virtual) Go(do func()) {
	v.mu.Lock()
	defer v.mu.Unlock()
	v.waiting = append(v.waiting, &waiter{start: do})
}

// Forever is a time to wait that does not end.
const Forever = never

const never = time.Duration(1<<63 - 1)

// after is the time so long from now; mu is held.
func (v *Virtual) after(d time.Duration) time.Duration {
	if d > never-v.now {
		return never
	}
	return v.now + max(0, d)
}

// leave lets the next one run; mu is held.
func (v *Virtual) leave() {
	if v.running = max(0, v.running-1); v.running > 0 || len(v.waiting) == 0 {
		return
	}
	i, which := v.next()
	w := v.waiting[i]
	v.waiting = slices.Delete(v.waiting, i, i+1)
	v.running++
	if w.start != nil {
		go v.run(w.start)
		return
	}
	w.woken <- which
}

// run runs something from its start to its end.
func (v *Virtual) run(do func()) {
	defer func() {
		v.mu.Lock()
		defer v.mu.Unlock()
		v.leave()
	}()
	do()
}

// next is who goes on, and what woke it: the first whose wait is over, else the one
// whose time comes first, to which time jumps. mu is held.
func (v *Virtual) next() (who, which int) {
	first := 0
	for i, w := range v.waiting {
		if w.start != nil {
			return i, -1
		}
		if k := slices.IndexFunc(w.over, isClosed); k >= 0 {
			return i, k
		}
		if w.until < v.waiting[first].until {
			first = i
		}
	}
	if v.waiting[first].until == never {
		panic("clock: everybody waits for what nobody does")
	}
	jump := max(0, v.waiting[first].until-v.now)
	if v.Pace > 0 {
		time.Sleep(time.Duration(float64(jump) / v.Pace))
	}
	v.now += jump
	return first, -1
}

func isClosed(c <-chan struct{}) bool {
	select {
	case <-c:
		return true
	default:
		return false
	}
}
