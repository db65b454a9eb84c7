package chess

import (
	"fmt"
	"strings"
)

// EPD is a line of Extended Position Description: a position and operations,
// such as those of a test suite.
type EPD struct {
	Position   Position
	ID         string            // operation id
	Best       []Move            // operation bm
	Avoid      []Move            // operation am
	Operations map[string]string // all of them, quotes kept
}

// ParseEPD reads a line: the first four fields of a FEN, then operations, each
// ended by a semicolon. The two counters of a FEN may stand before them.
func ParseEPD(text string) (EPD, error) {
	fields := strings.Fields(text)
	if len(fields) < 4 {
		return EPD{}, fmt.Errorf("an EPD has men, side, castling, en passant, then operations; got %q", text)
	}
	p, err := parsePlacement(fields[:4])
	if err != nil {
		return EPD{}, fmt.Errorf("EPD %q: %w", text, err)
	}
	rest := text
	for i, field := range fields {
		if i >= 6 || i >= 4 && !isDigits(field) {
			break
		}
		rest = strings.TrimSpace(rest)[len(field):]
	}
	e := EPD{Position: p, Operations: map[string]string{}}
	for _, op := range splitOperations(rest) {
		if err := e.operation(op); err != nil {
			return EPD{}, fmt.Errorf("EPD %q: %w", text, err)
		}
	}
	return e, nil
}

// splitOperations splits at semicolons outside quotes.
func splitOperations(text string) []string {
	var parts []string
	quoted, begin := false, 0
	for i := range len(text) {
		switch {
		case text[i] == '"':
			quoted = !quoted
		case text[i] == ';' && !quoted:
			parts = append(parts, text[begin:i])
			begin = i + 1
		}
	}
	return append(parts, text[begin:])
}

// operation reads one operation.
func (e *EPD) operation(text string) error {
	name, value, _ := strings.Cut(strings.TrimSpace(text), " ")
	if name == "" {
		return nil
	}
	value = strings.TrimSpace(value)
	e.Operations[name] = value
	var err error
	switch name {
	case "id":
		e.ID = strings.Trim(value, `"`)
	case "bm":
		e.Best, err = e.moves(value)
	case "am":
		e.Avoid, err = e.moves(value)
	}
	return err
}

// moves reads the moves of bm and am.
func (e *EPD) moves(text string) ([]Move, error) {
	var moves []Move
	for _, word := range strings.Fields(text) {
		m, err := e.Position.ParseSAN(word)
		if err != nil {
			return nil, err
		}
		moves = append(moves, m)
	}
	return moves, nil
}
