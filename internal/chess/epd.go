// SPDX-License-Identifier: Apache-2.0

package chess

import (
	"fmt"
	"strings"
	"unicode"
)

// EPD is one line of a suite of positions in Extended Position Description:
// four FEN fields and operations, each ended by a semicolon (S. J. Edwards,
// PGN standard, section 16.2; from memory).
type EPD struct {
	Position Position
	ID       string
	Best     []Move            // bm: one of these is right
	Avoid    []Move            // am: none of these is
	Ops      map[string]string // by name in small letters, the quotes taken off
}

// ParseEPD reads one line. Many suites have all six fields of a FEN; then the
// counters are taken from there, else from the operations hmvc and fmvn.
func ParseEPD(text string) (EPD, error) {
	f := strings.Fields(text)
	if len(f) < 4 {
		return EPD{}, fmt.Errorf("an EPD line starts with four fields of a FEN; got %.60q", text)
	}
	n := 4
	for n < min(6, len(f)) && isNumber(f[n]) {
		n++
	}
	e := EPD{Ops: operations(afterFields(text, n))}
	counters := []string{"0", "1"}
	copy(counters, f[4:n])
	for i, op := range []string{"hmvc", "fmvn"} {
		if v := e.Ops[op]; v != "" {
			counters[i] = v
		}
	}
	var err error
	if e.Position, err = ParseFEN(strings.Join(append(f[:4:4], counters...), " ")); err != nil {
		return EPD{}, err
	}
	e.ID = e.Ops["id"]
	if e.Best, err = e.moves("bm"); err != nil {
		return EPD{}, err
	}
	e.Avoid, err = e.moves("am")
	return e, err
}

func isNumber(text string) bool { return text != "" && strings.Trim(text, "0123456789") == "" }

// operations reads what is ended by semicolons. A value between quotes is taken
// whole; names are known in capitals too.
func operations(text string) map[string]string {
	out := map[string]string{}
	isQuoted := false
	for op := range strings.FieldsFuncSeq(text, func(c rune) bool {
		if c == '"' {
			isQuoted = !isQuoted
		}
		return c == ';' && !isQuoted
	}) {
		name, value, _ := strings.Cut(strings.TrimSpace(op), " ")
		if value = strings.TrimSpace(value); strings.Count(value, `"`) == 2 {
			value = strings.Trim(value, `"`)
		}
		if name != "" {
			out[strings.ToLower(name)] = value
		}
	}
	return out
}

// afterFields is the text behind the first n fields.
func afterFields(text string, n int) string {
	text = strings.TrimSpace(text)
	for range n {
		i := strings.IndexFunc(text, unicode.IsSpace)
		if i < 0 {
			return ""
		}
		text = strings.TrimSpace(text[i:])
	}
	return text
}

// moves reads the moves of an operation, with commas between them or without.
func (e EPD) moves(op string) ([]Move, error) {
	var out []Move
	for _, s := range strings.FieldsFunc(e.Ops[op], func(c rune) bool { return c == ',' || unicode.IsSpace(c) }) {
		m, err := e.Position.ParseSAN(s)
		if err != nil {
			return nil, fmt.Errorf("%s %s: %w", op, s, err)
		}
		out = append(out, m)
	}
	return out, nil
}

// Judges says whether the line tells right answers from wrong ones.
func (e EPD) Judges() bool { return len(e.Best)+len(e.Avoid) > 0 }

// Solves says whether m is a right answer.
func (e EPD) Solves(m Move) bool {
	for _, a := range e.Avoid {
		if a == m {
			return false
		}
	}
	for _, b := range e.Best {
		if b == m {
			return true
		}
	}
	return len(e.Best) == 0
}
