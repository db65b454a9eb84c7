// SPDX-License-Identifier: Apache-2.0

package paper

import (
	"fmt"
	"io"

	"codeberg.org/go-pdf/fpdf"

	"boardhand/internal/assess"
	"boardhand/internal/assess/figure"
	"boardhand/internal/draw"
	"boardhand/internal/rig"
)

// A4 and its margins, mm.
const (
	pageHeight = 297.0
	edge       = 17.0
	textWidth  = 210 - 2*edge
)

// sheet is the document being written.
type sheet struct{ d *fpdf.Fpdf }

func newSheet() *sheet {
	d := draw.NewPDF("A4")
	d.SetMargins(edge, edge, edge)
	d.SetAutoPageBreak(true, edge)
	d.SetFooterFunc(func() {
		d.SetY(-12)
		d.SetFont("sans", "", 8)
		d.SetTextColor(draw.Colour(false))
		d.CellFormat(0, 5, fmt.Sprintf("%d", d.PageNo()), "", 0, "C", false, 0, "")
	})
	d.AddPage()
	return &sheet{d: d}
}

// PDF writes the whole report, with further parts, as A4 pages.
func PDF(w io.Writer, r *rig.Rig, rep assess.Report, made Made, parts ...Document) error {
	s := newSheet()
	s.d.SetTitle("Judgement of "+rep.Rig, true)
	s.title(rep, made)
	s.table(rep)
	for _, d := range parts {
		s.d.AddPage()
		s.part(d)
	}
	s.figures(figure.Of(r))
	s.lines(rep)
	s.cautions(rep)
	s.inputs(r.Settings())
	return s.d.Output(w)
}

func (s *sheet) heading(text string) {
	s.room(20)
	s.d.Ln(3)
	s.text(text, 13, true)
	s.d.Ln(1)
}

// text writes a paragraph over the full width.
func (s *sheet) text(t string, size float64, bold bool) {
	style := ""
	if bold {
		style = "B"
	}
	s.d.SetFont("sans", style, size)
	s.d.MultiCell(textWidth, size*draw.Point*1.3, t, "", "L", false)
}

// room starts a new page when less than h is left.
func (s *sheet) room(h float64) {
	if s.d.GetY()+h > pageHeight-edge {
		s.d.AddPage()
	}
}

func (s *sheet) title(rep assess.Report, made Made) {
	s.d.SetTextColor(draw.Colour(false))
	s.text("Judgement of "+rep.Rig, 18, true)
	s.text(fmt.Sprintf("Verdict: %s. %s A real pair of magnets lies within 15 %% of these forces. %s", rep.Verdict, tally(rep), made), 10, false)
	for _, t := range rep.Remarks {
		s.text(sentence(t), 10, false)
	}
	s.d.Ln(3)
}

// columns of the table, mm.
var columns = []float64{16, 76, 20, 30, 18, 16}

func (s *sheet) table(rep assess.Report) {
	row := func(cells []string, bold, signal bool) {
		s.room(6)
		style := ""
		if bold {
			style = "B"
		}
		s.d.SetFont("sans", style, 8.5)
		s.d.SetDrawColor(185, 188, 183)
		s.d.SetLineWidth(0.15)
		for i, c := range cells {
			s.d.SetTextColor(draw.Colour(signal && i == 0))
			align := "L"
			if i >= 2 && i <= 4 {
				align = "R"
			}
			s.d.CellFormat(columns[i], 5.4, c, "B", 0, align, false, 0, "")
		}
		s.d.Ln(-1)
	}
	row([]string{"verdict", "check", "value", "limit", "margin", " unit"}, true, false)
	for _, c := range rep.Checks {
		cells := []string{c.Word(), c.Title, Figure(c.Value), c.Bound() + " " + Figure(c.Missed()), Figure(c.Spare()), " " + c.Unit}
		if !c.HasNumber() {
			cells[2], cells[3], cells[4] = "–", "", ""
		}
		row(cells, false, c.Verdict == assess.Fail)
	}
	s.d.SetTextColor(draw.Colour(false))
}

func (s *sheet) figures(all []figure.Figure) {
	s.d.AddPage()
	s.text("Drawings", 13, true)
	for _, f := range all {
		s.figure(f, 14, 2)
		s.d.Ln(4)
	}
}

// figure draws a figure with its caption, above millimetres below what stands there; room is
// what it needs besides its own height to begin on the page.
func (s *sheet) figure(f figure.Figure, room, above float64) {
	h := heightOf(f, textWidth)
	s.room(h + room)
	top := s.d.GetY() + above
	place(&draw.Page{PDF: s.d, X: edge, Y: top}, f, textWidth)
	s.d.SetXY(edge, top+h)
	s.d.SetTextColor(draw.Colour(false))
	s.text(f.Caption, 8.5, false)
}

// lines gives each check with why, change, formula, range and source.
func (s *sheet) lines(rep assess.Report) {
	s.d.AddPage()
	s.text("Line by line", 13, true)
	for _, c := range rep.Checks {
		s.room(38)
		s.d.Ln(2.5)
		s.d.SetTextColor(draw.Colour(c.Verdict == assess.Fail))
		s.text(fmt.Sprintf("%s: %s (%s)", c.Word(), c.Title, c.ID), 9.5, true)
		s.d.SetTextColor(draw.Colour(false))
		s.text(sentence(c.Why), 9, false)
		switch {
		case c.Accepted != "" && c.Verdict == assess.Warn:
			s.text(sentence("Accepted: "+c.Accepted), 9, true)
		case c.Change != "":
			s.text(sentence("Change: "+c.Change), 9, true)
		}
		if c.Explain != "" {
			s.text(c.Explain, 8.5, false)
		}
		s.text(fmt.Sprintf("Formula: %s.  Holds for: %s.  Source: %s.", c.Formula, c.Range, c.Source), 7.5, false)
	}
}

func (s *sheet) cautions(rep assess.Report) {
	s.heading("Cautions")
	for _, c := range rep.Cautions {
		s.room(14)
		s.text("– "+c.Text+" ("+c.Source+")", 9, false)
		s.d.Ln(1)
	}
}

// inputs are the rig's values, two columns to a page.
func (s *sheet) inputs(all []rig.Setting) {
	s.heading("The rig's values")
	s.d.SetFont("sans", "", 8)
	half := (len(all) + 1) / 2
	for i := range half {
		s.room(5)
		for _, at := range []int{i, i + half} {
			if at < len(all) {
				s.d.CellFormat(0.28*textWidth, 4, all[at].Key, "", 0, "L", false, 0, "")
				s.d.CellFormat(0.22*textWidth, 4, s.fit(all[at].Value, 0.21*textWidth), "", 0, "L", false, 0, "")
			}
		}
		s.d.Ln(-1)
	}
}

// fit cuts a text to a width, mm.
func (s *sheet) fit(text string, width float64) string {
	r := []rune(text)
	for len(r) > 2 && s.d.GetStringWidth(string(r)) > width {
		r = append(r[:len(r)-2], '…')
	}
	return string(r)
}
