// SPDX-License-Identifier: Apache-2.0

package materials

import (
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"

	"boardhand/internal/nest"
	"boardhand/internal/unit"
)

// File is one list as text.
type File struct{ Name, Text string }

// Files are the lists as CSV after RFC 4180, which spreadsheets open: one for each
// list, one for all, the leads, the cuts and the discs of the bases. Units stand in the
// heads.
func (l List) Files() []File {
	out := []File{{"materials.csv", l.table(l.Lines)}}
	for _, name := range Names() {
		if lines := l.In(name); len(lines) > 0 {
			out = append(out, File{name + ".csv", l.table(lines)})
		}
	}
	return append(out, File{"leads.csv", l.leadTable()}, File{"cuts.csv", l.cutTable()}, File{"bases.csv", l.baseTable()})
}

// table is lines as CSV.
func (l List) table(lines []Line) string {
	money := ""
	if l.Currency != "" {
		money = " (" + l.Currency + ")"
	}
	rows := [][]string{{"list", "part", "unit", "need", "spare", "owned", "buy", "price of one" + money, "cost" + money, "mass of one (g)", "mass (g)", "why"}}
	for _, x := range lines {
		price, cost := "", ""
		if x.Price != nil {
			price = amount(*x.Price)
		}
		if c, ok := x.Cost(); ok {
			cost = amount(c)
		}
		rows = append(rows, []string{x.List, x.Name, x.Unit, strconv.Itoa(x.Need), strconv.Itoa(x.Spare), strconv.Itoa(x.Owned), strconv.Itoa(x.Buy()), price, cost, grams(x.Mass), grams(unit.Mass(x.Need) * x.Mass), x.Why})
	}
	return written(rows)
}

func (l List) leadTable() string {
	rows := [][]string{{"lead", "from", "to", "follows", "fixed way and slack (mm)", "least length (mm)", "takes (mm)", "which is", "in the rig file"}}
	for _, x := range l.Wiring.Leads {
		named := "yes"
		if x.Assumed {
			named = "no"
		}
		rows = append(rows, []string{x.Name, x.From, x.To, strings.Join(x.Moves, " "), mm(x.Fixed), strconv.Itoa(int(math.Ceil(x.Need.MM() - 1e-6))), mm(x.Takes), x.Source, named})
	}
	return written(rows)
}

func (l List) cutTable() string {
	rows := [][]string{{"sheet", "part", "x (mm)", "y (mm)", "width (mm)", "height (mm)"}}
	for _, s := range []struct {
		name   string
		layout nest.Layout
	}{{"panel", l.Walls.Panels}, {"card", l.Feet.Layout}, {"cover", l.Feet.CoverLayout}} {
		for i, sheet := range s.layout.Sheets {
			for _, p := range sheet {
				rows = append(rows, []string{fmt.Sprintf("%s %d", s.name, i+1), p.Name, mm(p.X), mm(p.Y), mm(p.Width), mm(p.Height)})
			}
		}
	}
	return written(rows)
}

func (l List) baseTable() string {
	rows := [][]string{{"side", "kind", "pieces", "spare", "outer diameter (mm)", "pocket diameter (mm)", "layers of card", "discs"}}
	for _, r := range l.Feet.Rings {
		rows = append(rows, []string{r.Side, r.Kind, strconv.Itoa(r.Count), strconv.Itoa(r.Spare), mm(r.Outer), mm(r.Pocket), strconv.Itoa(r.Layers), strconv.Itoa(r.Discs())})
	}
	return written(rows)
}

// mm is a length in millimetres to a hundredth.
func mm(l unit.Length) string {
	return strconv.FormatFloat(math.Round(l.MM()*100)/100, 'f', -1, 64)
}

// amount is a sum of money, and grams a mass; nothing where nobody said.
func amount(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }

func grams(m unit.Mass) string {
	if m == 0 {
		return ""
	}
	return strconv.FormatFloat(math.Round(m.Grams()*10)/10, 'f', -1, 64)
}

// written is rows as CSV, with the line ends of RFC 4180.
func written(rows [][]string) string {
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	if err := w.WriteAll(rows); err != nil {
		panic("materials: writing to memory failed: " + err.Error()) // cannot be: a builder takes all
	}
	return b.String()
}
