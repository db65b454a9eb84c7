// SPDX-License-Identifier: Apache-2.0

// Package edition is one reading of a rig for the Drawing office: its judgement, its plots, its
// sheets and its report, each worked out once, when it is first asked for. They are those of
// `assess` and `sheets`.
package edition

import (
	"bytes"
	"sync"

	"boardhand/internal/assess"
	"boardhand/internal/assess/figure"
	"boardhand/internal/assess/paper"
	"boardhand/internal/rig"
)

// Edition is a rig as it was read once.
type Edition struct {
	Number uint64
	Rig    *rig.Rig
	Text   []byte // of its file

	made    paper.Made
	report  func() assess.Report
	figures func() []figure.Figure
	drawn   func() (drawn, error)
}

// Made is said in what is printed of an edition.
type Made = paper.Made

// Read is an edition of a rig file's text, of which nothing has been worked out yet.
func Read(number uint64, path string, text []byte, made Made) (*Edition, error) {
	r, err := rig.Parse(path, text, rig.Machine)
	if err == nil {
		err = assess.Unknown(r, assess.JudgeAccepted(r))
	}
	if err != nil {
		return nil, err
	}
	e := &Edition{Number: number, Rig: r, Text: text, made: made}
	e.report = sync.OnceValue(func() assess.Report { return assess.ReportOn(r) })
	e.figures = sync.OnceValue(func() []figure.Figure { return figure.Of(r) })
	e.drawn = sync.OnceValues(e.draw)
	return e, nil
}

// Report is the whole judgement.
func (e *Edition) Report() assess.Report { return e.report() }

// Plot is one drawing of the report, by its name.
type Plot struct {
	ID      string `json:"id"`
	Title   string `json:"title"`
	Caption string `json:"caption"`
}

// Plots lists the drawings of the report.
func (e *Edition) Plots() (out []Plot) {
	for _, f := range e.figures() {
		out = append(out, Plot{f.ID, f.Title, f.Caption})
	}
	return out
}

// Plot is the SVG of one of them; false when there is none of that name.
func (e *Edition) Plot(id string) (svg string, ok bool) {
	for _, f := range e.figures() {
		if f.ID == id {
			return paper.SVG(f), true
		}
	}
	return "", false
}

// HTML is the report as a page.
func (e *Edition) HTML() ([]byte, error) {
	var b bytes.Buffer
	err := paper.HTML(&b, e.Rig, e.Report(), e.made)
	return b.Bytes(), err
}

// PDF is the report for a printer.
func (e *Edition) PDF() ([]byte, error) {
	var b bytes.Buffer
	err := paper.PDF(&b, e.Rig, e.Report(), e.made)
	return b.Bytes(), err
}
