// SPDX-License-Identifier: Apache-2.0

package video

import (
	"bufio"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"
)

// Recorder passes everything on and writes it down, a line a call. What stands in the
// pictures is not written.
type Recorder struct {
	Kernel
	To io.Writer
}

func (r Recorder) Ioctl(request uint32, arg []byte) error {
	asked := hex.EncodeToString(arg)
	err := r.Kernel.Ioctl(request, arg)
	_, _ = fmt.Fprintf(r.To, "ioctl %08x %s %s %s\n", request, asked, hex.EncodeToString(arg), outcome(err)) // a log that cannot be written stops no camera
	return err
}

func (r Recorder) Map(offset int64, length int) ([]byte, error) {
	b, err := r.Kernel.Map(offset, length)
	_, _ = fmt.Fprintf(r.To, "map %d %d %s\n", offset, length, outcome(err))
	return b, err
}

func (r Recorder) Wait(most time.Duration) (bool, error) {
	ready, err := r.Kernel.Wait(most)
	_, _ = fmt.Fprintf(r.To, "wait %v %s\n", ready, outcome(err))
	return ready, err
}

// outcomes are the errors that a log knows, by one word.
var outcomes = map[string]error{"ok": nil, "refused": errNotTaken, "gone": errGone, "busy": errBusy, "again": errAgain}

func outcome(err error) string {
	for word, is := range outcomes {
		if is != nil && errors.Is(err, is) {
			return word
		}
	}
	if err != nil {
		return "gone"
	}
	return "ok"
}

// Playback answers as a driver did when it was recorded. A call that does not come
// as it did then is an error that names the line.
type Playback struct {
	lines []string
	next  int
}

// NewPlayback reads a log.
func NewPlayback(r io.Reader) (*Playback, error) {
	p := &Playback{}
	s := bufio.NewScanner(r)
	s.Buffer(nil, 1<<20)
	for s.Scan() {
		p.lines = append(p.lines, s.Text())
	}
	return p, s.Err()
}

// line takes the next line, which must be of that kind with those words first.
func (p *Playback) line(kind string, first ...string) ([]string, error) {
	if p.next >= len(p.lines) {
		return nil, fmt.Errorf("%w: the recording has ended", errGone)
	}
	f := strings.Fields(p.lines[p.next])
	p.next++
	want := append([]string{kind}, first...)
	if len(f) < len(want)+1 || strings.Join(f[:len(want)], " ") != strings.Join(want, " ") {
		return nil, fmt.Errorf("line %d of the recording is %q, not %q", p.next, p.lines[p.next-1], strings.Join(want, " "))
	}
	return f[len(want):], nil
}

func (p *Playback) Ioctl(request uint32, arg []byte) error {
	f, err := p.line("ioctl", fmt.Sprintf("%08x", request), hex.EncodeToString(arg))
	if err != nil {
		return err
	}
	answer, err := hex.DecodeString(f[0])
	if err != nil || len(answer) != len(arg) || len(f) != 2 {
		return fmt.Errorf("line %d of the recording is broken", p.next)
	}
	copy(arg, answer)
	return outcomes[f[1]]
}

func (p *Playback) Map(offset int64, length int) ([]byte, error) {
	f, err := p.line("map", fmt.Sprint(offset), fmt.Sprint(length))
	if err != nil {
		return nil, err
	}
	return make([]byte, length), outcomes[f[0]]
}

func (p *Playback) Wait(time.Duration) (bool, error) {
	f, err := p.line("wait")
	if err != nil {
		return false, err
	}
	return f[0] == "true", outcomes[f[len(f)-1]]
}

// Close ends the playback.
func (p *Playback) Close() error { return nil }
