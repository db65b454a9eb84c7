// SPDX-License-Identifier: Apache-2.0

package sheets

import (
	"fmt"
	"strings"

	"boardhand/internal/materials"
)

// listTitles are the headings of the lists of materials.
var listTitles = map[string]string{
	materials.InWalls: "Walls, floor and board", materials.InDrives: "Drives", materials.InMagnets: "Magnets",
	materials.InFeet: "Bases", materials.InWiring: "Wiring", materials.InFasteners: "Fasteners and glue",
}

// materialSheet is everything to have, list by list, with what it costs and weighs.
func materialSheet(o *Order) (Sheet, error) {
	s, l := newScript(o.Paper), o.Parts
	cost, unpriced, mass := l.Sum()
	hasPrices := false
	for _, x := range l.Lines {
		hasPrices = hasPrices || x.Price != nil
	}
	for _, name := range materials.Names() {
		if lines := l.In(name); len(lines) > 0 {
			s.heading(listTitles[name])
			s.table(materialColumns(l, hasPrices), materialRows(lines, hasPrices))
		}
	}
	if hasPrices {
		s.paragraph("", fmt.Sprintf("What is to be bought and has a price costs %.2f %s; %d lines with something to buy have none.", cost, l.Currency, unpriced))
	}
	if mass > 0 {
		s.paragraph("", fmt.Sprintf("What has a mass in the stock file weighs %.0f g.", mass.Grams()))
	}
	if len(l.Notes) > 0 {
		s.heading("Taken for want of a word")
		for _, n := range l.Notes {
			s.paragraph("–", n)
		}
	}
	return Sheet{Title: "Materials", Use: "Everything to have, what is owned taken off. The CSV files beside it open in a spreadsheet.", Pages: s.pages}, nil
}

func materialColumns(l materials.List, hasPrices bool) []column {
	out := []column{{"part", 50, false}, {"need", 12, true}, {"spare", 13, true}, {"owned", 14, true}, {"buy", 11, true}}
	if hasPrices {
		out = append(out, column{strings.TrimSpace("cost " + l.Currency), 17, true})
	}
	return append(out, column{"why", 0, false})
}

func materialRows(lines []materials.Line, hasPrices bool) (out [][]string) {
	for _, x := range lines {
		name := x.Name
		if x.Unit != "pieces" {
			name += " (" + x.Unit + ")"
		}
		row := []string{name, fmt.Sprint(x.Need), fmt.Sprint(x.Spare), fmt.Sprint(x.Owned), fmt.Sprint(x.Buy())}
		if hasPrices {
			cost := "–"
			if c, ok := x.Cost(); ok {
				cost = fmt.Sprintf("%.2f", c)
			}
			row = append(row, cost)
		}
		out = append(out, append(row, x.Why))
	}
	return out
}

// cautionSheet is what can hurt, with who says so.
func cautionSheet(o *Order) (Sheet, error) {
	s := newScript(o.Paper)
	s.heading("Before anything is cut, glued or switched on")
	for i, c := range o.Report.Cautions {
		s.paragraph(fmt.Sprintf("%d", i+1), fmt.Sprintf("%s (%s)", c.Text, c.Source))
	}
	return Sheet{Title: "Cautions", Use: "Read it first, and keep it with the machine.", Pages: s.pages}, nil
}
