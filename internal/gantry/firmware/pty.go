// SPDX-License-Identifier: Apache-2.0

//go:build unix

package firmware

import (
	"errors"
	"os"
	"sync"

	"github.com/creack/pty"
	"golang.org/x/sys/unix"
	"golang.org/x/term"
)

// Terminal is a firmware behind a pseudo-terminal, as if on a serial port.
type Terminal struct {
	Name   string // of the device to open
	device *os.File
	host   *os.File // kept open, so that a host may come and go
	done   sync.WaitGroup
}

// OpenTerminal puts a firmware behind a new pseudo-terminal without echo or line
// editing.
func OpenTerminal(s *Server) (*Terminal, error) {
	device, host, err := pty.Open()
	if err != nil {
		return nil, err
	}
	// A copy that waits in the runtime's poller, so that Close ends a Read.
	fd, err := unix.Dup(int(device.Fd()))
	_, raw := term.MakeRaw(int(host.Fd())) // neither echo nor line editing
	err = errors.Join(err, device.Close(), raw)
	if err == nil {
		err = unix.SetNonblock(fd, true)
	}
	if err != nil {
		return nil, errors.Join(err, host.Close())
	}
	t := &Terminal{Name: host.Name(), device: os.NewFile(uintptr(fd), "terminal"), host: host}
	t.done.Go(func() { _ = s.Serve(t.device) }) // ends when the terminal is closed
	return t, nil
}

// Close takes the device away, as pulling the plug does.
func (t *Terminal) Close() error {
	err := errors.Join(t.host.Close(), t.device.Close())
	t.done.Wait()
	if errors.Is(err, os.ErrClosed) { // the firmware closes what it served
		return nil
	}
	return err
}
