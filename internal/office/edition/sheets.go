// SPDX-License-Identifier: Apache-2.0

package edition

import (
	"path"

	"boardhand/internal/materials"
	"boardhand/internal/sheets"
)

// Sheet is one drawing with the names of its files.
type Sheet struct {
	Name     string   `json:"name"`
	Title    string   `json:"title"`
	Use      string   `json:"use"`
	Scale    string   `json:"scale"`
	Pages    int      `json:"pages"`
	Pictures []string `json:"pictures"` // SVG
	Files    []string `json:"files"`    // to be printed, cut or counted: PDF, DXF, CSV, SVG
}

// drawn are the sheets and all their files.
type drawn struct {
	list  []Sheet
	files map[string][]byte
}

// inOne is the file that has all sheets.
const inOne = "all.pdf"

// draw draws all sheets, for A4.
func (e *Edition) draw() (drawn, error) {
	order := sheets.Order{Rig: e.Rig, Report: e.Report(), Parts: materials.Of(e.Rig, nil), Paper: sheets.Papers[0], Maker: e.made.Program, Date: e.made.Date}
	all, err := sheets.Draw(order)
	if err != nil {
		return drawn{}, err
	}
	files, err := sheets.Files(order, all)
	if err != nil {
		return drawn{}, err
	}
	out := drawn{files: map[string][]byte{}}
	at := map[string]int{}
	for i, s := range all {
		at[s.Name] = i
		out.list = append(out.list, Sheet{Name: s.Name, Title: s.Title, Use: s.Use, Scale: s.Scale, Pages: len(s.Pages)})
	}
	for _, f := range files {
		i, isOne := at[f.Sheet]
		if isOne || f.Name == inOne {
			out.files[f.Name] = f.Data
		}
		if !isOne {
			continue
		}
		s := &out.list[i]
		s.Files = append(s.Files, f.Name)
		if path.Ext(f.Name) == ".svg" {
			s.Pictures = append(s.Pictures, f.Name)
		}
	}
	return out, nil
}

// Sheets lists the drawings.
func (e *Edition) Sheets() ([]Sheet, error) {
	d, err := e.drawn()
	return d.list, err
}

// File is one file of the sheets by its name; false when there is none of that name.
func (e *Edition) File(name string) (data []byte, ok bool, err error) {
	d, err := e.drawn()
	data, ok = d.files[name]
	return data, ok, err
}
