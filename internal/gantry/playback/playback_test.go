// SPDX-License-Identifier: Apache-2.0

package playback

import (
	"bytes"
	"io"
	"net"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"boardhand/internal/gantry"
)

// What a Recorder wrote plays back at the same times; what the log does not have is
// told.
func TestRecordAndPlayback(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var log bytes.Buffer
		a, z := net.Pipe()
		go func() {
			b := make([]byte, 8)
			n, _ := z.Read(b)
			time.Sleep(50 * time.Millisecond)
			_, _ = z.Write(bytes.ToUpper(b[:n]))
			_ = z.Close()
		}()
		talk := func(wire io.ReadWriteCloser, say string) (string, time.Duration) {
			began := time.Now()
			_, _ = wire.Write([]byte(say))
			b := make([]byte, 8)
			n, _ := wire.Read(b)
			return string(b[:n]), time.Since(began)
		}
		if got, _ := talk(gantry.Record(a, &log), "ab\n"); got != "AB\n" {
			t.Errorf("heard %q", got)
		}
		if want := "0 > \"ab\\n\"\n50 < \"AB\\n\"\n"; log.String() != want {
			t.Errorf("log %q, want %q", log.String(), want)
		}
		p, err := New(strings.NewReader("# a note\n" + log.String()))
		if err != nil {
			t.Fatal(err)
		}
		if err := p.Err(); err == nil || !strings.Contains(err.Error(), "not written") {
			t.Errorf("nothing written: %v", err)
		}
		if got, took := talk(p, "ab\n"); got != "AB\n" || took != 50*time.Millisecond || p.Err() != nil {
			t.Errorf("played %q after %v, %v", got, took, p.Err())
		}
		if _, err := p.Read(make([]byte, 1)); err != io.EOF {
			t.Errorf("after the end: %v", err)
		}
		p, _ = New(strings.NewReader(log.String()))
		if _, err := p.Write([]byte("ax")); err == nil || p.Err() == nil || !strings.Contains(err.Error(), `"x" was written where the log has "b\n"`) {
			t.Errorf("another byte: %v", err)
		}
		_ = p.Close()
	})
}

// A log that is none is told by its line.
func TestPlaybackOfNoLog(t *testing.T) {
	for _, text := range []string{"x", "1 = \"a\"", "x > \"a\"", "1 > a"} {
		if _, err := New(strings.NewReader("0 > \"a\"\n" + text)); err == nil || !strings.HasPrefix(err.Error(), "line 2") {
			t.Errorf("%q: %v", text, err)
		}
	}
}
