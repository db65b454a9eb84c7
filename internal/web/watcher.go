// SPDX-License-Identifier: Apache-2.0

package web

import "sync"

// watcher is one page's letter box: one merged event, never a queue, so that
// a page that does not read costs one event and no waiting.
type watcher struct {
	mu       sync.Mutex
	pending  Event
	snapshot bool // pending is a whole snapshot
	full     bool
	bell     chan struct{}
}

func newWatcher() *watcher { return &watcher{bell: make(chan struct{}, 1)} }

// put lays e over what is still waiting.
func (w *watcher) put(e Event, snapshot bool) {
	e.JPEG = nil
	w.mu.Lock()
	w.pending.merge(e)
	w.snapshot = w.snapshot || snapshot
	w.full = true
	w.mu.Unlock()
	select {
	case w.bell <- struct{}{}:
	default:
	}
}

// forget drops what belongs to a game's end that is no more.
func (w *watcher) forget() {
	w.mu.Lock()
	w.pending.LastMove, w.pending.Result = "", ""
	w.mu.Unlock()
}

// take empties the box.
func (w *watcher) take() (e Event, snapshot, ok bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	e, snapshot, ok = w.pending, w.snapshot, w.full
	w.pending, w.snapshot, w.full = Event{}, false, false
	return e, snapshot, ok
}
