// SPDX-License-Identifier: Apache-2.0

package uci

import (
	"fmt"
	"os"
	"os/exec"
	"runtime"
	"sync"
	"time"
)

// process is an outside program with everything that it starts: one process
// group, which ends with us.
type process struct {
	in    *os.File
	lines chan string   // of its output; closed when that ends
	ended chan struct{} // closed when it has ended and was waited for
	words tail          // the last ones of its error output

	cmd      *exec.Cmd
	out, err *os.File
	guard    *guard

	mu     sync.Mutex
	waited bool   // the group's number may be another's now
	status string // how it ended; read after ended
}

// pipeTime is how long the output of an ended program is still read: what it
// wrote is there already, and a process that left the group must not hold us.
const pipeTime = time.Second

// launch starts a program.
func launch(words []string) (*process, error) {
	p := &process{lines: make(chan string, 64), ended: make(chan struct{}), cmd: exec.Command(words[0], words[1:]...)}
	theirs, err := p.join()
	if err != nil {
		return nil, err
	}
	started := make(chan error, 1)
	go p.live(started)
	err = <-started
	for _, f := range theirs {
		_ = f.Close()
	}
	if err != nil {
		p.drop()
		return nil, err
	}
	go func() {
		defer close(p.lines)
		eachLine(p.out, longLine, func(s string) { p.lines <- s })
	}()
	return p, nil
}

// join lays the three pipes and returns their other ends.
func (p *process) join() (theirs []*os.File, err error) {
	var r, w [3]*os.File
	for i := range r {
		if r[i], w[i], err = os.Pipe(); err != nil {
			for j := range i {
				_, _ = r[j].Close(), w[j].Close()
			}
			return nil, err
		}
	}
	p.cmd.Stdin, p.cmd.Stdout, p.cmd.Stderr = r[0], w[1], w[2]
	p.in, p.out, p.err = w[0], r[1], r[2]
	alone(p.cmd)
	return []*os.File{r[0], w[1], w[2]}, nil
}

// drop closes our ends of the pipes.
func (p *process) drop() {
	_, _, _ = p.in.Close(), p.out.Close(), p.err.Close()
}

// live starts the program and waits for it. It keeps to one thread of the
// system, which ties the parent-death signal to the thread that starts.
func (p *process) live(started chan<- error) {
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	if err := p.cmd.Start(); err != nil {
		started <- err
		return
	}
	p.guard = watchOver(p.cmd.Process.Pid)
	started <- nil
	said := make(chan struct{})
	go func() {
		defer close(said)
		eachLine(p.err, longLine, p.words.add)
	}()
	state, err := p.cmd.Process.Wait()
	p.mu.Lock()
	endGroup(p.cmd.Process.Pid)
	p.waited = true
	p.mu.Unlock()
	p.guard.end()
	_ = p.out.SetReadDeadline(time.Now().Add(pipeTime))
	_ = p.err.SetReadDeadline(time.Now().Add(pipeTime))
	<-said
	if p.status = fmt.Sprint(err); err == nil {
		p.status = state.String()
	}
	close(p.ended)
}

// kill ends the whole group.
func (p *process) kill() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if !p.waited {
		endGroup(p.cmd.Process.Pid)
	}
}

// bury waits for the end and gives everything back.
func (p *process) bury() {
	<-p.ended
	for range p.lines {
	}
	p.drop()
}
