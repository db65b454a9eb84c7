// SPDX-License-Identifier: Apache-2.0

package terminal

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"sync"
	"testing"
)

// gate lets nothing through until it is opened.
type gate struct {
	open chan struct{}
	mu   sync.Mutex
	got  strings.Builder
}

func (g *gate) Write(p []byte) (int, error) {
	<-g.open
	g.mu.Lock()
	defer g.mu.Unlock()
	return g.got.Write(p)
}

// Printing to a terminal that nobody reads does not wait; what is too much is
// counted, and the rest comes when it is read again.
func TestScreenNobodyReads(t *testing.T) {
	g := &gate{open: make(chan struct{})}
	s := NewScreen(g)
	o := &Out{W: s}
	o.Printf("first\n")
	for range 3 * mostLines {
		o.Printf("line\n")
	}
	close(g.open)
	s.Close()
	text := g.got.String()
	if n := strings.Count(text, "line\n"); !strings.HasPrefix(text, "first\nline\n") || n < mostLines-1 || n > 2*mostLines {
		t.Errorf("%d lines came through", n)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	dropped := s.dropped
	for _, l := range strings.Split(text, "\n") {
		n := 0
		if _, err := fmt.Sscanf(l, "(%d line", &n); err == nil {
			dropped += n
		}
	}
	if dropped+strings.Count(text, "line\n") != 3*mostLines {
		t.Errorf("%d lines are counted as dropped", dropped)
	}
}

// A terminal that is gone is an end to printing, not to the game.
func TestScreenGone(t *testing.T) {
	r, w := io.Pipe()
	_ = r.CloseWithError(errors.New("gone"))
	s := NewScreen(w)
	for range 10 {
		if n, err := s.Write([]byte("line\n")); n != 5 || err != nil {
			t.Fatalf("%d, %v", n, err)
		}
	}
	s.Close()
	if n, err := s.Write([]byte("after\n")); n != 6 || err != nil {
		t.Errorf("after the end: %d, %v", n, err)
	}
}
