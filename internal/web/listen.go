// SPDX-License-Identifier: Apache-2.0

package web

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/netip"
	"strings"
	"syscall"
)

// Listen opens the address, such as "127.0.0.1:8640", or port 0 for any free
// one. Its errors say what to do.
func (s *Server) Listen(addr string) (net.Listener, error) {
	host, _, err := net.SplitHostPort(addr)
	if err != nil {
		return nil, fmt.Errorf("page address %q: give host and port, such as 127.0.0.1:8640", addr)
	}
	if !s.AllowRemote && !isLoopback(host) {
		return nil, fmt.Errorf("page address %q can be reached from other machines: give 127.0.0.1 with a port", addr)
	}
	ln, err := net.Listen("tcp", addr)
	switch {
	case errors.Is(err, syscall.EADDRINUSE):
		return nil, fmt.Errorf("page address %s is in use by another program: end that one, or give another port (port 0 takes any free one)", addr)
	case err != nil:
		return nil, fmt.Errorf("page address %s cannot be opened: %w", addr, err)
	}
	return ln, nil
}

func isLoopback(host string) bool {
	if strings.EqualFold(host, "localhost") {
		return true
	}
	ip, err := netip.ParseAddr(host)
	return err == nil && ip.IsLoopback()
}

// Serve listens on addr and serves until ctx ends.
func (s *Server) Serve(ctx context.Context, addr string) error {
	ln, err := s.Listen(addr)
	if err != nil {
		return err
	}
	return s.ServeOn(ctx, ln)
}

// ServeOn serves on an open listener until ctx ends, and closes it. A server
// serves once.
func (s *Server) ServeOn(ctx context.Context, ln net.Listener) error {
	h := &http.Server{Handler: s.Handler(), ReadHeaderTimeout: headerTime, IdleTimeout: idleTime}
	ended := make(chan error, 1)
	go func() { ended <- h.Serve(ln) }()
	select {
	case err := <-ended:
		return fmt.Errorf("pages ended: %w", err)
	case <-ctx.Done():
	}
	s.close.Do(func() { close(s.closing) })
	last, cancel := context.WithTimeout(context.WithoutCancel(ctx), farewell)
	defer cancel()
	if err := h.Shutdown(last); err != nil {
		return h.Close()
	}
	return nil
}
