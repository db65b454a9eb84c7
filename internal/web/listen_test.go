// SPDX-License-Identifier: Apache-2.0

package web

import (
	"context"
	"errors"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"syscall"
	"testing"
	"time"
)

func TestAPortInUseSaysWhatToDo(t *testing.T) {
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = taken.Close() }()
	err = New(nil).Serve(context.Background(), taken.Addr().String())
	if err == nil || !strings.Contains(err.Error(), "in use by another program") || !strings.Contains(err.Error(), "another port") || strings.Contains(err.Error(), "\n") {
		t.Errorf("got %v", err)
	}
}

func TestOnlyLoopbackUnlessAllowed(t *testing.T) {
	for _, addr := range []string{"0.0.0.0:0", ":0", "[::]:0", "192.0.2.1:0", "example.com:0"} {
		if _, err := New(nil).Listen(addr); err == nil || !strings.Contains(err.Error(), "give 127.0.0.1") {
			t.Errorf("%s: got %v", addr, err)
		}
	}
	if _, err := New(nil).Listen("8317"); err == nil || !strings.Contains(err.Error(), "host and port") {
		t.Errorf("got %v", err)
	}
	s := New(nil)
	s.AllowRemote = true
	ln, err := s.Listen(":0")
	if err != nil {
		t.Fatal(err)
	}
	_ = ln.Close()
}

// An open page must not keep the program from ending.
func TestServingEndsWithItsContext(t *testing.T) {
	s := New(nil)
	ln, err := s.Listen("127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- s.ServeOn(ctx, ln) }()
	res, err := http.Get("http://" + ln.Addr().String() + "/events")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = res.Body.Close() }()
	if _, err := io.ReadFull(res.Body, make([]byte, 10)); err != nil {
		t.Fatal(err)
	}
	cancel()
	select {
	case err := <-ended:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(2*farewell + time.Minute): // a machine can be busy
		t.Error("still serving")
	}
}

// A caller who never sends the body that it announced is hung up on.
func TestABodyThatNeverComesIsNotWaitedFor(t *testing.T) {
	for _, path := range []string{"hand", "halt"} {
		r := &recorder{}
		s := playing(r)
		s.patience = 20 * time.Millisecond
		srv := httptest.NewServer(s.Handler())
		c, err := net.Dial("tcp", srv.Listener.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		_, err = io.WriteString(c, "POST /api/"+path+" HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\nContent-Length: 900\r\n\r\n{")
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.Copy(io.Discard, c); err != nil && !errors.Is(err, syscall.ECONNRESET) { // until it is closed
			t.Errorf("%s: %v", path, err)
		}
		_ = c.Close()
		srv.Close()
		if (len(r.did) == 1) != (path == "halt") {
			t.Errorf("%s: done %v", path, r.did)
		}
	}
}

// A caller who does not read a picture is hung up on.
func TestAPictureThatNobodyReadsIsGivenUp(t *testing.T) {
	s := New(nil)
	s.patience = 50 * time.Millisecond
	s.Publish(Event{JPEG: make([]byte, 32<<20)}) // more than any buffer on the way holds
	done := make(chan struct{})
	h := s.Handler()
	srv := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h.ServeHTTP(w, r)
		close(done)
	}))
	defer srv.Close()
	c, err := net.Dial("tcp", srv.Listener.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = c.Close() }()
	if _, err := io.WriteString(c, "GET /picture HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n"); err != nil {
		t.Fatal(err)
	}
	<-done
}
