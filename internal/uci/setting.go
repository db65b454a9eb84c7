// SPDX-License-Identifier: Apache-2.0

package uci

import (
	"fmt"
	"slices"
	"strings"
)

// setting is an option of a player and its value, "" for a button.
type setting struct{ name, value string }

// parseSetting reads NAME=VALUE; NAME alone presses a button. A line's end cannot be
// part of it: the protocol goes by lines.
func parseSetting(text string) (setting, error) {
	name, value, hasValue := strings.Cut(text, "=")
	s := setting{strings.TrimSpace(name), strings.TrimSpace(value)}
	if s.name == "" || hasValue && s.value == "" || strings.ContainsAny(text, "\n\r") {
		return s, fmt.Errorf("an option of a player is written NAME=VALUE, like Hash=64; got %q", text)
	}
	return s, nil
}

// command is the setting as the protocol has it.
func (s setting) command() string {
	if s.value == "" {
		return "setoption name " + s.name
	}
	return "setoption name " + s.name + " value " + s.value
}

// optionName is the name in a line "option name NAME type …"; false in any other.
func optionName(line string) (string, bool) {
	rest, ok := strings.CutPrefix(strings.Join(strings.Fields(line), " "), "option name ")
	name, _, hasType := strings.Cut(rest, " type ")
	return name, ok && hasType
}

// set sends the settings. One that the player has not told of is an error: programs pass
// over what they do not know, and would play otherwise than was asked.
func (p *Player) set(settings []string, told []string) error {
	for _, text := range settings {
		s, err := parseSetting(text)
		if err != nil {
			return err
		}
		same := func(name string) bool { return strings.EqualFold(name, s.name) } // "should not be case sensitive"
		if !slices.ContainsFunc(told, same) {
			return fmt.Errorf("it has no option %q; it has: %s", s.name, quoted(strings.Join(told, ", "), tailLetters*tailLines))
		}
		if err := p.say(s.command()); err != nil {
			return err
		}
	}
	return nil
}
