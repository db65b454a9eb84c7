// SPDX-License-Identifier: Apache-2.0

package card

import (
	"fmt"
	"strconv"
	"strings"
)

// column is one figure of a row: how it is written and read.
type column struct {
	head string
	put  func(Row) string
	get  func(*Row, string) error
}

// columns are the table's, in order.
func columns() []column {
	out := []column{
		{"set", func(r Row) string { return r.Name }, func(r *Row, s string) error { r.Name = s; return nil }},
		whole("pictures", func(r *Row) *int { return &r.Pictures }),
		share("moves right", func(r *Row) *Count { return &r.Moves }),
		whole("wrong", func(r *Row) *int { return &r.Wrong }),
		share("asked", func(r *Row) *Count { return &r.Asked }),
		share("same", func(r *Row) *Count { return &r.Still }),
		share("hands", func(r *Row) *Count { return &r.Hands }),
		share("odd", func(r *Row) *Count { return &r.Odd }),
		whole("errors", func(r *Row) *int { return &r.Failed }),
		real("surprise, nats", "%.4f", func(r *Row) *float64 { return &r.Surprise }),
		real("offset, mm", "%.3f", func(r *Row) *float64 { return &r.Median }),
		real("95 %, mm", "%.3f", func(r *Row) *float64 { return &r.Most }),
		real("95 % over σ", "%.2f", func(r *Row) *float64 { return &r.Sigmas }),
		real("view, px", "%.4f", func(r *Row) *float64 { return &r.View }),
		real("lead, nats", "%.2f", func(r *Row) *float64 { return &r.Lead }),
		real("unexplained, mm²", "%.2f", func(r *Row) *float64 { return &r.Left }),
		real("hand, mm²", "%.0f", func(r *Row) *float64 { return &r.Cover }),
	}
	for k := range Bins {
		head := fmt.Sprintf("%g–%g", Edges[k], min(Edges[k+1], 1))
		out = append(out, share(head, func(r *Row) *Count { return &r.Beliefs[k] }))
	}
	return append(out, real("CPU, ms", "%.0f", func(r *Row) *float64 { return &r.CPU }))
}

func whole(head string, of func(*Row) *int) column {
	return column{head, func(r Row) string { return strconv.Itoa(*of(&r)) }, func(r *Row, s string) (err error) {
		*of(r), err = strconv.Atoi(s)
		return err
	}}
}

func share(head string, of func(*Row) *Count) column {
	return column{head, func(r Row) string {
		if c := of(&r); c.Of > 0 {
			return fmt.Sprintf("%d/%d", c.Is, c.Of)
		}
		return "–"
	}, func(r *Row, s string) error {
		if s == "–" {
			return nil
		}
		_, err := fmt.Sscanf(s, "%d/%d", &of(r).Is, &of(r).Of)
		return err
	}}
}

// real is a figure that is not counted; 0 is written as a dash, for "none".
func real(head, verb string, of func(*Row) *float64) column {
	return column{head, func(r Row) string {
		if v := *of(&r); v > 0 {
			return fmt.Sprintf(verb, v)
		}
		return "–"
	}, func(r *Row, s string) (err error) {
		if s != "–" {
			*of(r), err = strconv.ParseFloat(s, 64)
		}
		return err
	}}
}

// String is the card as a Markdown table.
func (c Card) String() string {
	var b strings.Builder
	cols := columns()
	for _, col := range cols {
		b.WriteString("| " + col.head + " ")
	}
	b.WriteString("|\n" + strings.Repeat("| --- ", len(cols)) + "|\n")
	for _, r := range c {
		for _, col := range cols {
			b.WriteString("| " + col.put(r) + " ")
		}
		b.WriteString("|\n")
	}
	return b.String()
}

// Parse reads the rows of all of a text's tables that String wrote; the rest
// of the text is passed over.
func Parse(text string) (Card, error) {
	var c Card
	cols := columns()
	for n, line := range strings.Split(text, "\n") {
		cells := strings.Split(strings.Trim(strings.TrimSpace(line), "|"), "|")
		first := strings.TrimSpace(cells[0])
		if !strings.HasPrefix(line, "|") || first == cols[0].head || strings.HasPrefix(first, "---") {
			continue
		}
		if len(cells) != len(cols) {
			return nil, fmt.Errorf("line %d has %d columns instead of %d: write the card anew with make score-accept", n+1, len(cells), len(cols))
		}
		var r Row
		for k, col := range cols {
			if err := col.get(&r, strings.TrimSpace(cells[k])); err != nil {
				return nil, fmt.Errorf("line %d, %s: %q is no figure of a card (%v): write the card anew with make score-accept", n+1, col.head, cells[k], err)
			}
		}
		c = append(c, r)
	}
	return c, nil
}
