// SPDX-License-Identifier: Apache-2.0

package paper

import (
	"html/template"
	"io"

	"boardhand/internal/assess/figure"
	"boardhand/internal/draw"
)

// Document is a table with drawings and notes.
type Document struct {
	Title, Lead string
	Head        []string
	Widths      []float64 // of the columns on paper, mm; as wide as the text together
	Rows        []Row
	Figures     []figure.Figure
	Notes       []string
}

// Row is one line of the table.
type Row struct {
	Cells []string
	IsOff bool   // it is shown in the signal colour
	Note  string // below it, over the full width
}

// firstWords are the columns, from the left, that hold words; the others hold numbers.
const firstWords = 2

// part is a document with its drawings.
type part struct {
	Document
	Drawn []drawn
}

func (d Document) drawn() part {
	p := part{Document: d}
	for _, f := range d.Figures {
		p.Drawn = append(p.Drawn, drawn{f, template.HTML(SVG(f))}) // our own drawing, its texts escaped
	}
	return p
}

// HTML writes the document as one page without outside parts.
func (d Document) HTML(w io.Writer) error {
	return documentPage.Execute(w, d.drawn())
}

// PDF writes the document as A4 pages.
func (d Document) PDF(w io.Writer) error {
	s := newSheet()
	s.d.SetTitle(d.Title, true)
	s.d.SetTextColor(draw.Colour(false))
	s.text(d.Title, 18, true)
	s.text(d.Lead, 10, false)
	s.d.Ln(3)
	s.cells(Row{Cells: d.Head}, d.Widths, true)
	for _, r := range d.Rows {
		s.cells(r, d.Widths, false)
	}
	s.d.Ln(2)
	for _, f := range d.Figures {
		s.figure(f, 20, 4)
	}
	if len(d.Notes) > 0 {
		s.heading("Done, and when")
	}
	for _, n := range d.Notes {
		s.room(10)
		s.text("– "+n, 9, false)
	}
	return s.d.Output(w)
}

// part writes the document as a part of another one.
func (s *sheet) part(d Document) {
	s.heading(d.Title)
	s.text(d.Lead, 9.5, false)
	s.d.Ln(2)
	s.cells(Row{Cells: d.Head}, d.Widths, true)
	for _, r := range d.Rows {
		s.cells(r, d.Widths, false)
	}
	s.d.Ln(2)
	for _, f := range d.Figures {
		s.figure(f, 14, 2)
		s.d.Ln(3)
	}
	for _, n := range d.Notes {
		s.room(8)
		s.text("– "+n, 8, false)
	}
}

// cells writes a row of the table, and its note below it.
func (s *sheet) cells(r Row, widths []float64, isHead bool) {
	s.room(6 + 9*float64(min(1, len(r.Note))))
	style, border := "", "B"
	if isHead {
		style = "B"
	}
	if r.Note != "" {
		border = ""
	}
	s.d.SetDrawColor(185, 188, 183)
	s.d.SetLineWidth(0.15)
	s.d.SetFont("sans", style, 8.5)
	for i, c := range r.Cells {
		s.d.SetTextColor(draw.Colour(r.IsOff && i == 0))
		align := "L"
		if i >= firstWords && i < len(r.Cells)-1 {
			align = "R"
		}
		if i == len(r.Cells)-1 {
			c = " " + c
		}
		s.d.CellFormat(widths[i], 5.4, c, border, 0, align, false, 0, "")
	}
	s.d.Ln(-1)
	s.d.SetTextColor(draw.Colour(false))
	if r.Note != "" {
		s.d.SetX(edge + widths[0])
		s.d.SetFont("sans", "", 8.5)
		s.d.MultiCell(textWidth-widths[0], 4, r.Note, "B", "L", false)
	}
}

var documentPage = template.Must(template.New("document").Parse(documentText))

const documentText = `<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>{{.Title}}</title>
<style>
` + look + `</style></head><body>
<h1>{{.Title}}</h1>
<p>{{.Lead}}</p>
<table class="lines"><thead><tr>{{range $i, $c := .Head}}<th{{if gt $i 1}} class="n"{{end}}>{{$c}}</th>{{end}}</tr></thead><tbody>
{{range .Rows}}{{$off := .IsOff}}<tr{{if .Note}} class="noted"{{end}}>{{range $i, $c := .Cells}}<td{{if and $off (eq $i 0)}} class="off"{{else if gt $i 1}} class="n"{{end}}>{{$c}}</td>{{end}}</tr>
{{if .Note}}<tr><td></td><td class="note" colspan="{{len .Cells}}">{{.Note}}</td></tr>
{{end}}{{end}}</tbody></table>
{{range .Drawn}}<figure id="{{.ID}}">{{.SVG}}<figcaption>{{.Caption}}</figcaption></figure>
{{end}}{{if .Notes}}<h2>Done, and when</h2>
<ul>{{range .Notes}}<li>{{.}}</li>
{{end}}</ul>{{end}}
</body></html>
`
