package chess

import (
	"fmt"
	"strings"
)

// EPD is one line of a suite of positions in Extended Position Description:
// four FEN fields and operations, each ended by a semicolon (S. J. Edwards,
// PGN standard, section 16.2; from memory).
type EPD struct {
	Position Position
	ID       string
	Best     []Move // bm: one of these is right
	Avoid    []Move // am: none of these is
	Ops      map[string]string
}

// ParseEPD reads one line.
func ParseEPD(text string) (EPD, error) {
	f := strings.Fields(text)
	if len(f) < 4 {
		return EPD{}, fmt.Errorf("an EPD line starts with four fields of a FEN; got %q", text)
	}
	e := EPD{Ops: map[string]string{}}
	for op := range strings.SplitSeq(afterFields(text, 4), ";") {
		name, value, _ := strings.Cut(strings.TrimSpace(op), " ")
		if name != "" {
			e.Ops[name] = strings.Trim(strings.TrimSpace(value), `"`)
		}
	}
	var err error
	if e.Position, err = ParseFEN(strings.Join(f[:4], " ") + " 0 1"); err != nil {
		return EPD{}, err
	}
	e.ID = e.Ops["id"]
	if e.Best, err = e.moves("bm"); err != nil {
		return EPD{}, err
	}
	e.Avoid, err = e.moves("am")
	return e, err
}

// afterFields is the text behind the first n fields.
func afterFields(text string, n int) string {
	text = strings.TrimLeft(text, " \t")
	for range n {
		i := strings.IndexAny(text, " \t")
		if i < 0 {
			return ""
		}
		text = strings.TrimLeft(text[i:], " \t")
	}
	return text
}

func (e EPD) moves(op string) ([]Move, error) {
	var out []Move
	for _, s := range strings.Fields(e.Ops[op]) {
		m, err := e.Position.ParseSAN(s)
		if err != nil {
			return nil, fmt.Errorf("%s %s: %w", op, s, err)
		}
		out = append(out, m)
	}
	return out, nil
}

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
