// SPDX-License-Identifier: Apache-2.0

package wire_test

import (
	"bytes"
	"errors"
	"io"
	"testing"
	"testing/synctest"
	"time"

	"boardhand/internal/gantry/clock"
	"boardhand/internal/gantry/wire"
)

// stub is a stream with what was written, and what is to be read.
type stub struct {
	written bytes.Buffer
	io.Reader
}

func (s *stub) Write(p []byte) (int, error) { return s.written.Write(p) }
func (s *stub) Close() error                { return nil }

// Each fault happens as often as it should: within four standard deviations.
func TestRates(t *testing.T) {
	const n, seed = 100000, 5
	t.Log("seed", seed)
	text := bytes.Repeat([]byte("U"), n)
	for name, c := range map[string]struct {
		f    wire.Faults
		most int // bytes that arrive, at most
		sure func(b []byte) int
	}{
		"loss":    {wire.Faults{Loss: 0.01}, n, func(b []byte) int { return n - len(b) }},
		"double":  {wire.Faults{Double: 0.01}, 2 * n, func(b []byte) int { return len(b) - n }},
		"corrupt": {wire.Faults{Corrupt: 0.01}, n, func(b []byte) int { return len(b) - bytes.Count(b, []byte("U")) }},
	} {
		c.f.Seed = seed
		s := &stub{Reader: bytes.NewReader(text)}
		l := wire.New(s, c.f, clock.New(1))
		if m, err := l.Write(text); m != n || err != nil {
			t.Fatal(m, err)
		}
		back, err := io.ReadAll(l)
		if err != nil {
			t.Fatal(err)
		}
		for _, got := range []int{c.sure(s.written.Bytes()), c.sure(back)} {
			if d := got - n/100; d*d > 16*n/100 {
				t.Errorf("%s: %d of %d bytes", name, got, n)
			}
		}
		if out, in := l.Count(); out != c.sure(s.written.Bytes()) || in != c.sure(back) {
			t.Errorf("%s: counts %d and %d", name, out, in)
		}
	}
}

// The same seed spoils the same bytes; protected ones never.
func TestSeedAndProtection(t *testing.T) {
	once := func(seed uint64) string {
		s := &stub{}
		l := wire.New(s, wire.Faults{Seed: seed, Loss: 0.2, Corrupt: 0.2, Protected: "\n"}, clock.New(1))
		_, _ = l.Write(bytes.Repeat([]byte("0123456789\n"), 20))
		return s.written.String()
	}
	if first, again := once(1), once(1); first != again || first == once(2) {
		t.Error("the seed does not decide")
	}
	if n := bytes.Count([]byte(once(3)), []byte("\n")); n < 20 {
		t.Errorf("%d of 20 line ends came", n)
	}
}

// A late byte holds up what was sent with it and after it, in bed time; who sends does
// not wait.
func TestDelay(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		c := clock.New(1)
		host, device := wire.Pipe()
		l := wire.New(host, wire.Faults{Late: 1, Delay: time.Second}, c)
		_, _ = l.Write([]byte("G0"))
		if got := c.Now(); got > time.Millisecond {
			t.Errorf("the sender waited %v", got)
		}
		if _, err := io.ReadFull(device, make([]byte, 2)); err != nil {
			t.Fatal(err)
		}
		if got := c.Now(); got < time.Second || got > 1001*time.Millisecond {
			t.Errorf("%v", got)
		}
		_ = l.Close()
	})
}

// After the plug was pulled streams are broken; the device has another name then.
func TestUnplug(t *testing.T) {
	p := &wire.Port{Serve: func(s io.ReadWriteCloser) error { _, err := io.Copy(s, s); return err }}
	name := p.Names()[0]
	s, err := p.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	back := make([]byte, 2)
	go func() { _, _ = s.Write([]byte("hi")) }()
	if _, err := io.ReadFull(s, back); err != nil || string(back) != "hi" {
		t.Fatalf("%q %v", back, err)
	}
	p.Unplug()
	if _, err := s.Read(back); err == nil {
		t.Error("read from a pulled plug")
	}
	if _, err := p.Open(name); !errors.Is(err, wire.ErrNoDevice) || len(p.Names()) != 0 {
		t.Errorf("opened a pulled plug: %v", err)
	}
	p.Plug()
	if got := p.Names()[0]; got == name {
		t.Errorf("still %s", got)
	}
	if s, err = p.Open(p.Names()[0]); err != nil {
		t.Fatal(err)
	}
	p.Unplug()
	_ = s.Close()
}
