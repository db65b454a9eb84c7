// SPDX-License-Identifier: Apache-2.0

package uci

import (
	"errors"
	"fmt"
	"strings"
)

// Words splits a command into its words at blanks. A part between quotes, '…'
// or "…", is taken as it stands, and \ takes the next character as it stands,
// except between '…'. No shell is asked.
func Words(command string) ([]string, error) {
	var out []string
	var word strings.Builder
	begun, escaped, quote := false, false, rune(0)
	for _, c := range command {
		switch {
		case escaped:
			word.WriteRune(c)
			escaped = false
		case c == '\\' && quote != '\'':
			begun, escaped = true, true
		case quote != 0 && c == quote:
			quote = 0
		case quote == 0 && (c == '\'' || c == '"'):
			begun, quote = true, c
		case quote == 0 && (c == ' ' || c == '\t' || c == '\n'):
			if begun {
				out = append(out, word.String())
			}
			word.Reset()
			begun = false
		default:
			begun = true
			word.WriteRune(c)
		}
	}
	if begun {
		out = append(out, word.String())
	}
	switch {
	case quote != 0:
		return nil, fmt.Errorf("the command %q has a %c without its partner; put another one at its end", command, quote)
	case escaped:
		return nil, fmt.Errorf(`the command %q ends in \; write \\ for the character itself`, command)
	case len(out) == 0:
		return nil, errors.New("needs the command of a player behind it, like uci:/usr/games/player")
	}
	return out, nil
}
