// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"bytes"
	"strings"
	"testing"
	"testing/synctest"
	"time"
)

// No line makes the parser panic, and what it takes for an answer is one.
func FuzzReply(f *testing.F) {
	for _, s := range []string{"ok", "error:1", "ALARM:1", "<Run|MPos:1.0,2.0,3.0|Bf:1,2|WCO:0,0,0>", "$1=2", "[MSG:x]", "Grbl 1.1h ['$' for help]", ">x:ok", "<|>"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, line string) {
		r := parseReply(line)
		if r.kind == isOK && line != "ok" || r.kind == isStatus && (!states[r.status.state] || !strings.HasSuffix(line, ">")) {
			t.Errorf("%q: %+v", line, r)
		}
	})
}

// Random bytes in the middle of a stroke: no panic; where they break the protocol,
// no motion is sent after the reset, and none before homing; and no more than one
// complaint a second.
func FuzzDriver(f *testing.F) {
	for _, s := range []string{"", "ok\r\n", "ok\r\nok\r\n", "\r\nGrbl 1.1h ['$' for help]\r\n", "ALARM:1\r\n", "error:9\r\n", "<Idle|MPos:0,0,0>\r\n", "\x00\xff", "o", "$1=1\r\n", "[MSG:x]\r\n"} {
		f.Add([]byte(s), uint16(3), uint16(700))
	}
	f.Fuzz(func(t *testing.T, garbage []byte, answer, wait uint16) {
		synctest.Test(t, func(t *testing.T) {
			b := newBench(t)
			defer finish(b.Gantry)
			var last time.Time
			b.complain = func(s string) {
				if now := time.Now(); !last.IsZero() && now.Sub(last) < time.Second {
					t.Errorf("complained %v after the last: %s", now.Sub(last), s)
				}
				last = time.Now()
			}
			b.home(t)
			b.peer.say = func(n int, ok string) string {
				if n == 1+int(answer%60) {
					return string(garbage)
				}
				return ok
			}
			go func() {
				time.Sleep(time.Duration(wait%2000) * time.Millisecond)
				_, _ = b.peer.wire.Write(garbage)
			}()
			_, err := b.Move(t.Context(), across())
			time.Sleep(5 * time.Second)
			b.peer.mu.Lock()
			n, hasReset := len(b.peer.lines), bytes.HasSuffix(bytes.ReplaceAll(b.peer.realtime, []byte("?"), nil), []byte("!\x18"))
			b.peer.mu.Unlock()
			if b.link.why() == nil {
				return
			}
			if !hasReset {
				t.Errorf("%v: no hold and reset", err)
			}
			if _, err := b.Move(t.Context(), across()); err == nil {
				t.Error("moved after lost sync")
			}
			if err := b.Lift(t.Context(), true); err == nil {
				t.Error("lifted after lost sync")
			}
			time.Sleep(5 * time.Second)
			b.peer.mu.Lock()
			defer b.peer.mu.Unlock()
			if len(b.peer.lines) != n {
				t.Errorf("sent %q after lost sync", b.peer.lines[n:])
			}
		})
	})
}
