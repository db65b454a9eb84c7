// SPDX-License-Identifier: Apache-2.0

package wire

import (
	"errors"
	"fmt"
	"io"
	"sync"
)

// ErrNoDevice is the answer to opening a name that no device has.
var ErrNoDevice = errors.New("no such device")

// Port is where a device is plugged in. Each time it is plugged in anew it has
// another name, as devices on a bus do whose old name is still held.
type Port struct {
	// Serve is the device's end of a stream; it returns when the stream ends.
	Serve func(io.ReadWriteCloser) error
	// Opened is told of each opening, before Serve; nil: nobody is.
	Opened func()

	mu      sync.Mutex
	number  int
	isOut   bool
	streams []io.Closer
	serving sync.WaitGroup
}

// Names are the devices that are there.
func (p *Port) Names() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.isOut {
		return nil
	}
	return []string{fmt.Sprintf("device%d", p.number)}
}

// Open opens a device by its name.
func (p *Port) Open(name string) (io.ReadWriteCloser, error) {
	if names := p.Names(); len(names) == 0 || names[0] != name {
		return nil, fmt.Errorf("%s: %w", name, ErrNoDevice)
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	here, there := Pipe()
	p.streams = append(p.streams, here, there)
	if p.Opened != nil {
		p.Opened()
	}
	p.serving.Go(func() { _ = p.Serve(there) })
	return here, nil
}

// Unplug breaks all streams; nothing can be opened until Plug.
func (p *Port) Unplug() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.isOut = true
	for _, s := range p.streams {
		_ = s.Close()
	}
	p.streams = nil
	p.serving.Wait()
}

// Plug plugs the device in again, under its next name.
func (p *Port) Plug() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.isOut = false
	p.number++
}
