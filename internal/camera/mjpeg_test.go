// SPDX-License-Identifier: Apache-2.0

package camera

import (
	"bytes"
	"context"
	"fmt"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

// serve is a network camera that sends the given parts and then ends the connection.
func serve(t *testing.T, boundary string, parts ...[]byte) string {
	t.Helper()
	s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "multipart/x-mixed-replace; boundary="+boundary)
		for _, p := range parts {
			_, _ = fmt.Fprintf(w, "--%s\r\nContent-Type: image/jpeg\r\nContent-Length: %d\r\n\r\n%s\r\n", strings.TrimPrefix(boundary, "--"), len(p), p)
			w.(http.Flusher).Flush()
			time.Sleep(20 * time.Millisecond)
		}
	}))
	t.Cleanup(s.Close)
	return s.URL
}

func TestStream(t *testing.T) {
	for _, boundary := range []string{"frame", "--frame"} {
		s, err := OpenStream(t.Context(), serve(t, boundary, picture(t, true), picture(t, true), []byte("torn")))
		if err != nil {
			t.Fatal(err)
		}
		p, err := s.Look(t.Context())
		if err != nil || p.Image.Bounds().Dx() != 64 || p.Taken.IsZero() {
			t.Errorf("boundary %s: %v, %v", boundary, p.Name, err)
		}
		var errs []string
		for range 6 { // the torn picture, the end of the connection, pictures again after it
			if _, err := s.Look(t.Context()); err != nil {
				errs = append(errs, err.Error())
			}
		}
		if got := strings.Join(errs, "|"); !strings.Contains(got, "broke: it ended") {
			t.Errorf("boundary %s: errors %q", boundary, got)
		}
		s.Close()
	}
}

func TestStreamRefusals(t *testing.T) {
	if _, err := OpenStream(context.Background(), "ftp://camera"); err == nil {
		t.Error("an ftp address was accepted")
	}
	plain := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		_, _ = w.Write([]byte("hello"))
	}))
	defer plain.Close()
	gone := httptest.NewServer(http.NotFoundHandler())
	defer gone.Close()
	for url, want := range map[string]string{plain.URL: "not a motion JPEG stream", gone.URL: "404 Not Found", "http://127.0.0.1:1/": "broke"} {
		s, err := OpenStream(t.Context(), url)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := s.Look(t.Context()); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", url, err, want)
		}
		s.Close()
	}
}

// Whatever a camera sends, reading it ends, and no picture is larger than may be.
func FuzzParts(f *testing.F) {
	f.Add([]byte("--b\r\nContent-Type: image/jpeg\r\nContent-Length: 3\r\n\r\nabc\r\n--b--\r\n"))
	f.Add([]byte("--b\r\nContent-Length: 99999999999999999999\r\n\r\nabc\r\n--b\r\n\r\n"))
	f.Add([]byte("--b\r\nContent-Length: -1\r\n\r\n\r\n--b"))
	f.Fuzz(func(t *testing.T, sent []byte) {
		s := &Stream{newest: waiting("x")}
		if err := s.parts(multipart.NewReader(bytes.NewReader(sent), "b")); err == nil {
			t.Error("a stream that ended was not told of")
		}
		if len(s.data) > len(sent) {
			t.Errorf("a picture of %d bytes out of %d", len(s.data), len(sent))
		}
	})
}
