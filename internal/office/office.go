// SPDX-License-Identifier: Apache-2.0

// Package office is the Drawing office: a rig file that is read anew whenever it was saved, judged,
// drawn and tried on a page. It never writes to the file.
package office

import (
	"bytes"
	"context"
	"os"
	"sync"
	"time"

	"boardhand/internal/office/edition"
	"boardhand/internal/rig"
	"boardhand/internal/web"
)

// Office shows one rig.
type Office struct {
	path    string // of the rig file that is watched; "": none is
	made    edition.Made
	publish func(web.Event)
	trying  sync.Mutex // one trial at a time

	// Of Look alone.
	seen     stamp
	isLooked bool // at all
	isJudged bool // as it was seen

	mu     sync.Mutex
	now    *edition.Edition // the newest that is right; nil: there was none yet
	broken string           // what is wrong with the file as it stands; "": nothing
}

// stamp tells a file that was saved anew.
type stamp struct{ size, saved int64 }

// Of is the office of a rig that is in play as a text has it: nothing can be tried there.
func Of(name string, text []byte) (*Office, error) {
	e, err := edition.Read(1, name, text, edition.Made{})
	return &Office{now: e}, err
}

// Watching is the office of a rig file. publish is told of each edition, and of a file that is
// broken.
func Watching(path string, made edition.Made, publish func(web.Event)) *Office {
	return &Office{path: path, made: made, publish: publish}
}

// Watch looks at the file again and again until ctx ends.
func (o *Office) Watch(ctx context.Context) {
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	for ctx.Err() == nil {
		o.Look()
		select {
		case <-ctx.Done():
		case <-tick.C:
		}
	}
}

// Look reads the file if it was saved since, and judges it. One that was saved since the last look
// is left for the next one: an editor may be at work. For one goroutine.
func (o *Office) Look() {
	var is stamp
	if info, err := os.Stat(o.path); err == nil {
		is = stamp{info.Size(), info.ModTime().UnixNano()}
	}
	isNew := is != o.seen
	o.seen = is
	switch {
	case o.isLooked && isNew:
		o.isJudged = false
	case !o.isJudged:
		o.isLooked, o.isJudged = true, true
		o.read()
	}
}

// read takes the file as it is now for a new edition, or for a broken one.
func (o *Office) read() {
	was, broken := o.newest()
	text, err := rig.ReadText(o.path)
	if err == nil && was != nil && broken == "" && bytes.Equal(text, was.Text) {
		return
	}
	number := uint64(1)
	if was != nil {
		number = was.Number + 1
	}
	var next *edition.Edition
	if err == nil {
		next, err = edition.Read(number, o.path, text, o.made)
	}
	if err == nil {
		next.Report() // so that no page has to wait
	}
	o.mu.Lock()
	o.broken = ""
	if err != nil {
		o.broken = err.Error()
	} else {
		o.now = next
	}
	o.mu.Unlock()
	o.publish(o.Event())
}

// newest is the newest edition, nil when there was none, and what is wrong with the file now.
func (o *Office) newest() (*edition.Edition, string) {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.now, o.broken
}

// Event tells pages which edition there is, and whether the file is broken.
func (o *Office) Event() web.Event {
	now, broken := o.newest()
	is := web.Office{Broken: broken, IsWatched: o.path != ""}
	if now != nil {
		is.Edition = now.Number
	}
	return web.Event{Office: &is}
}
