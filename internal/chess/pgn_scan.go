// SPDX-License-Identifier: Apache-2.0

package chess

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// pgnKind is a kind of token.
type pgnKind int

const (
	pgnEnd pgnKind = iota
	pgnTag
	pgnMove
	pgnResult
)

// pgnToken is a token of PGN that matters: a tag pair, a move, a result, the end.
type pgnToken struct {
	kind        pgnKind
	text, value string
}

// pgnScanner splits PGN text into tokens and skips what does not matter.
type pgnScanner struct {
	text  string // what is left
	line  int
	fresh bool // at the start of a line
}

// take removes n bytes.
func (s *pgnScanner) take(n int) string {
	part := s.text[:n]
	s.text = s.text[n:]
	s.line += strings.Count(part, "\n")
	s.fresh = strings.HasSuffix(part, "\n")
	return part
}

// takeLine removes the rest of the line.
func (s *pgnScanner) takeLine() {
	if i := strings.IndexByte(s.text, '\n'); i >= 0 {
		s.take(i + 1)
		return
	}
	s.take(len(s.text))
}

// skipBlank removes empty lines.
func (s *pgnScanner) skipBlank() {
	for s.text != "" && isPGNSpace(s.text[0]) {
		s.take(1)
	}
}

// skipToEvent removes the lines up to the next one that begins with the tag Event; at
// least the rest of this one.
func (s *pgnScanner) skipToEvent() {
	for s.takeLine(); s.text != "" && !strings.HasPrefix(s.text, "[Event "); {
		s.takeLine()
	}
}

// next is the next token that matters.
func (s *pgnScanner) next() (pgnToken, error) {
	for s.text != "" {
		switch c := s.text[0]; {
		case c == '%' && s.fresh, c == ';':
			s.takeLine()
		case c == '{':
			i := strings.IndexByte(s.text, '}')
			if i < 0 {
				return pgnToken{}, errors.New("the comment that begins here with { has no }")
			}
			s.take(i + 1)
		case c == '(':
			if err := s.skipVariation(); err != nil {
				return pgnToken{}, err
			}
		case c == '[':
			return s.tag()
		case isPGNSpace(c), c == '.':
			s.take(1)
		default:
			t, err := s.word()
			if err != nil || t.kind != pgnEnd {
				return t, err
			}
		}
	}
	return pgnToken{kind: pgnEnd}, nil
}

func isPGNSpace(c byte) bool {
	return c == ' ' || c == '\n' || c == '\r' || c == '\t' || c == '\v' || c == '\f'
}

// skipVariation skips from ( to its ), with variations and comments within.
func (s *pgnScanner) skipVariation() error {
	for depth := 0; s.text != ""; {
		switch s.text[0] {
		case '(':
			depth++
		case ')':
			if depth--; depth == 0 {
				s.take(1)
				return nil
			}
		case '{':
			i := strings.IndexByte(s.text, '}')
			if i < 0 {
				return errors.New("the comment that begins here with { has no }")
			}
			s.take(i)
		case ';':
			s.takeLine()
			continue
		}
		s.take(1)
	}
	return errors.New("a variation that begins with ( has no )")
}

// tag reads [Name "value"].
func (s *pgnScanner) tag() (pgnToken, error) {
	s.take(1)
	s.skipSpace()
	n := 0
	for n < len(s.text) && validTagName(s.text[n:n+1]) {
		n++
	}
	t := pgnToken{kind: pgnTag, text: s.take(n)}
	s.skipSpace()
	if n == 0 || !strings.HasPrefix(s.text, `"`) {
		return t, errors.New(`a tag is written [Name "value"]`)
	}
	s.take(1)
	var b strings.Builder
	for {
		i := strings.IndexAny(s.text, "\"\\\n")
		if i < 0 || s.text[i] == '\n' || s.text[i] == '\\' && i+1 == len(s.text) {
			return t, fmt.Errorf("the value of tag %s has no closing quote", t.text)
		}
		b.WriteString(s.text[:i])
		if s.text[i] == '\\' {
			b.WriteByte(s.text[i+1])
			s.take(i + 2)
			continue
		}
		s.take(i + 1)
		break
	}
	s.skipSpace()
	if !strings.HasPrefix(s.text, "]") {
		return t, fmt.Errorf("tag %s has no closing ]", t.text)
	}
	s.take(1)
	t.value = b.String()
	return t, nil
}

func (s *pgnScanner) skipSpace() {
	for s.text != "" && isPGNSpace(s.text[0]) {
		s.take(1)
	}
}

// writtenResults are the ways in which people write a result, the longer ones first.
var writtenResults = []struct {
	text string
	is   Result
}{
	{string(Draw), Draw}, {"½-½", Draw}, {"1/2", Draw},
	{string(WhiteWins), WhiteWins}, {string(BlackWins), BlackWins}, {string(Unfinished), Unfinished},
}

// annotations are words beside moves that are none: en passant, novelty, and the signs
// of who stands better (common practice in print, no source).
var annotations = []string{"e.p.", "ep", "N", "+-", "-+", "+=", "=+", "=", "±", "∓", "⩲", "⩱", "∞"}

// word reads a move, result, move number or annotation; pgnEnd stands for the
// last two, which do not matter.
func (s *pgnScanner) word() (pgnToken, error) {
	for _, r := range writtenResults {
		if strings.HasPrefix(s.text, r.text) {
			s.take(len(r.text))
			return pgnToken{kind: pgnResult, text: string(r.is)}, nil
		}
	}
	n := 0
	for n < len(s.text) && !isPGNSpace(s.text[n]) && strings.IndexByte("{}()[];$", s.text[n]) < 0 {
		if s.text[n] == '.' && isDigits(s.text[:n]) {
			break // a move number, perhaps with the move right behind it
		}
		n++
	}
	if n == 0 && s.text[0] != '$' {
		return pgnToken{}, fmt.Errorf("%q is out of place", s.text[0])
	}
	if n == 0 {
		n = 1 + digits(s.text[1:])
	}
	word := s.take(n)
	if isDigits(word) || word[0] == '$' || strings.Trim(word, "!?") == "" || slices.Contains(annotations, word) {
		return pgnToken{kind: pgnEnd}, nil
	}
	return pgnToken{kind: pgnMove, text: word}, nil
}

// digits counts the decimal digits text begins with.
func digits(text string) int {
	n := 0
	for n < len(text) && text[n] >= '0' && text[n] <= '9' {
		n++
	}
	return n
}

// isDigits says whether text is a number.
func isDigits(text string) bool { return text != "" && digits(text) == len(text) }
