package web

import (
	"context"
	"io"
	"net"
	"net/http"
	"strings"
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
	case <-time.After(2 * farewell):
		t.Error("still serving")
	}
}
