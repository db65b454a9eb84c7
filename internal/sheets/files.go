// SPDX-License-Identifier: Apache-2.0

package sheets

import (
	"bytes"
	"fmt"
	"html/template"
	"slices"

	"boardhand/internal/assess"
	"boardhand/internal/draw"
)

// File is one file of a set of sheets.
type File struct {
	Name  string
	Data  []byte
	Sheet string // that it is of, by its name; "": of all
}

// Files are those of all sheets: each as PDF and SVG, what is cut as DXF too, all of them in one
// PDF, and a page with the previews.
func Files(o Order, all []Sheet) ([]File, error) {
	var out []File
	var pages []*draw.Drawing
	for i := range all {
		f, err := all[i].files()
		if err != nil {
			return nil, fmt.Errorf("sheet %s: %w", all[i].Name, err)
		}
		out = append(out, f...)
		pages = append(pages, all[i].Pages...)
	}
	var pdf, index bytes.Buffer
	if err := draw.WritePDF(&pdf, "Sheets of "+o.Rig.Name(), pages...); err != nil {
		return nil, err
	}
	if err := indexPage.Execute(&index, indexOf(o, all)); err != nil {
		return nil, err
	}
	if slices.ContainsFunc(all, func(s Sheet) bool { return s.Name == "materials" }) {
		for _, f := range o.Parts.Files() {
			out = append(out, File{f.Name, []byte(f.Text), "materials"})
		}
	}
	return append(out, File{Name: "all.pdf", Data: pdf.Bytes()}, File{Name: "index.html", Data: index.Bytes()}), nil
}

// files are those of one sheet.
func (s *Sheet) files() ([]File, error) {
	var pdf bytes.Buffer
	if err := draw.WritePDF(&pdf, s.Title, s.Pages...); err != nil {
		return nil, err
	}
	out := []File{{s.Name + ".pdf", pdf.Bytes(), s.Name}}
	for k, name := range s.pictures() {
		d := s.Whole
		if d == nil {
			d = s.Pages[k]
		}
		out = append(out, File{name, []byte(d.SVG()), s.Name})
	}
	if s.Whole != nil {
		var dxf bytes.Buffer
		if err := draw.WriteDXF(&dxf, s.Whole); err != nil {
			return nil, err
		}
		out = append(out, File{s.Name + ".dxf", dxf.Bytes(), s.Name})
	}
	return out, nil
}

// pictures are the names of its SVG files: one for what is drawn as a whole, else one a page.
func (s *Sheet) pictures() (out []string) {
	if s.Whole != nil || len(s.Pages) == 1 {
		return []string{s.Name + ".svg"}
	}
	for k := range s.Pages {
		out = append(out, fmt.Sprintf("%s-%d.svg", s.Name, k+1))
	}
	return out
}

// shown is a sheet on the page of previews.
type shown struct {
	*Sheet
	Pictures []string
	Lists    []string // CSV files beside it
}

func indexOf(o Order, all []Sheet) any {
	data := struct {
		Rig, Maker, Date, Paper string
		Failing                 []assess.Check
		Cautions                []assess.Caution
		Sheets                  []shown
	}{Rig: o.Rig.Path, Maker: o.Maker, Date: o.Date, Paper: o.Paper.Name, Cautions: o.Report.Cautions}
	for _, c := range o.Report.Checks {
		if c.Verdict == assess.Fail {
			data.Failing = append(data.Failing, c)
		}
	}
	for i := range all {
		data.Sheets = append(data.Sheets, shown{&all[i], all[i].pictures(), lists(o, &all[i])})
	}
	return data
}

// lists are the CSV files that go with a sheet.
func lists(o Order, s *Sheet) (out []string) {
	if s.Name != "materials" {
		return nil
	}
	for _, f := range o.Parts.Files() {
		out = append(out, f.Name)
	}
	return out
}

var indexPage = template.Must(template.New("index").Parse(`<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>Sheets of {{.Rig}}</title>
<style>
body{font:16px/1.5 sans-serif;color:#1c2430;background:#f7f6f1;margin:2em auto;max-width:64em;padding:0 1em}
h1{font-size:1.5em}h2{font-size:1.1em;margin:0}a{color:inherit}
.no{border:2px solid #b3261e;color:#b3261e;padding:.5em 1em}
.all{display:grid;grid-template-columns:repeat(auto-fill,minmax(19em,1fr));gap:1.5em}
section{background:#fbfaf6;border:1px solid #b9bcb7;padding:1em}
section img{width:100%;height:17em;object-fit:contain;background:#fff}
p{margin:.3em 0}@media print{section{break-inside:avoid}}
</style></head><body>
<h1>Sheets of {{.Rig}}</h1>
<p>Drawn by {{.Maker}}{{with .Date}} on {{.}}{{end}}, for {{.Paper}} paper. Print at 100 %, not fitted to the page, and check the ruler of each page at 1:1 with a steel rule. All in one: <a href="all.pdf">all.pdf</a>.</p>
{{with .Failing}}<div class="no"><p><strong>Not to be built as it is.</strong> The rig fails:</p><ul>{{range .}}<li>{{.ID}}: {{.Why}}{{with .Change}} Change: {{.}}{{end}}</li>{{end}}</ul></div>{{end}}
<div class="all">{{range .Sheets}}<section>
<h2>{{.Title}}{{with .Scale}}, {{.}}{{end}}</h2>
{{range .Pictures}}<a href="{{.}}"><img src="{{.}}" alt=""></a>{{end}}
<p>{{.Use}}</p>
<p><a href="{{.Name}}.pdf">PDF</a>{{if .Whole}} · <a href="{{.Name}}.dxf">DXF</a>{{end}}{{range .Lists}} · <a href="{{.}}">{{.}}</a>{{end}}{{with .Pages}}, {{len .}} {{if eq (len .) 1}}page{{else}}pages{{end}}{{end}}</p>
</section>
{{end}}</div>
<h2>Cautions</h2><ul>{{range .Cautions}}<li>{{.Text}} ({{.Source}})</li>{{end}}</ul>
</body></html>
`))
