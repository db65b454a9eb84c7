// SPDX-License-Identifier: Apache-2.0

package uci

import (
	"fmt"
	"strings"
	"sync"
)

// tail keeps the last lines of a program's error output.
type tail struct {
	mu    sync.Mutex
	lines []string
}

func (t *tail) add(line string) {
	if line = strings.TrimSpace(line); line == "" {
		return
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	t.lines = append(t.lines, line)
	if n := len(t.lines) - tailLines; n > 0 {
		t.lines = t.lines[n:]
	}
}

// String quotes the lines; "" when there are none.
func (t *tail) String() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	out := make([]string, len(t.lines))
	for i, l := range t.lines {
		out[i] = quoted(l, tailLetters)
	}
	return strings.Join(out, ", ")
}

// quoted is text of another program as it may be printed: on one line, without
// control characters, at most so many letters.
func quoted(text string, most int) string {
	r := []rune(strings.ToValidUTF8(text, "?"))
	if len(r) > most {
		return fmt.Sprintf("%q…", string(r[:most]))
	}
	return fmt.Sprintf("%q", string(r))
}
