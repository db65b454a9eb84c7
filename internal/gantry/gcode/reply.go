// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"strconv"
	"strings"
)

// kind says what a line from the controller is.
type kind int

// The kinds of lines. Source: the firmware's published interface description.
const (
	isGarbage kind = iota // no line that the description has
	isOK                  // a line was taken
	isError               // a line was refused; number says why
	isAlarm               // motion is locked; number says why
	isBanner              // it started anew
	isStatus              // the answer to ?
	isSetting             // $number=value
	isNote                // [...]: text says what
	isStored              // >line:ok, a stored line run at the start; that ok counts for nothing
)

// reply is one line from the controller.
type reply struct {
	kind   kind
	number int
	text   string // of a note between its brackets, of a setting its value, else the line
	status status
}

// parseReply reads a line without its end. Half a line is garbage.
func parseReply(line string) reply {
	r := reply{text: line}
	switch {
	case !isPlain(line):
	case line == "ok":
		r.kind = isOK
	case strings.HasPrefix(line, "error:"):
		r.setNumber(isError, line[len("error:"):])
	case strings.HasPrefix(line, "ALARM:"):
		r.setNumber(isAlarm, line[len("ALARM:"):])
	case strings.HasPrefix(line, "Grbl ") && strings.HasSuffix(line, "]"):
		r.kind = isBanner
	case strings.HasPrefix(line, "<"):
		if s, ok := parseStatus(line); ok {
			r.kind, r.status = isStatus, s
		}
	case strings.HasPrefix(line, "$"):
		if key, value, ok := strings.Cut(line[1:], "="); ok && value != "" {
			if r.setNumber(isSetting, key); r.kind == isSetting {
				r.text = value
			}
		}
	case strings.HasPrefix(line, "[") && strings.HasSuffix(line, "]"):
		r.kind, r.text = isNote, line[1:len(line)-1]
	case strings.HasPrefix(line, ">") && strings.HasSuffix(line, ":ok"):
		r.kind = isStored
	}
	return r
}

// setNumber makes the reply one of a kind with a number, garbage without.
func (r *reply) setNumber(k kind, text string) {
	if n, err := strconv.ParseUint(text, 10, 16); err == nil && isDigits(text) {
		r.kind, r.number = k, int(n)
	}
}

func isDigits(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

// isPlain says whether a line is printable ASCII of a length that the firmware sends.
func isPlain(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return len(s) > 0 && len(s) <= longestReply
}
