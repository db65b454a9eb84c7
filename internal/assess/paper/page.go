// SPDX-License-Identifier: Apache-2.0

package paper

import (
	"fmt"
	"html/template"
	"io"
	"math"
	"strings"
	"unicode"

	"boardhand/internal/assess"
	"boardhand/internal/assess/figure"
	"boardhand/internal/draw"
	"boardhand/internal/rig"
)

// drawn is a figure with its drawing.
type drawn struct {
	figure.Figure
	SVG template.HTML
}

// figureWidth on the page, mm.
const figureWidth = 176.0

// SVG draws one figure as a picture of its own, for other pages.
func SVG(f figure.Figure) string {
	s := draw.NewSVG(figureWidth, heightOf(f, figureWidth))
	s.Name(f.Title)
	place(s, f, figureWidth)
	return s.Close()
}

// Made tells by what a report was made, and when; empty, the report does not say.
type Made struct{ Program, Date string }

func (m Made) String() string {
	switch {
	case m.Program == "":
		return ""
	case m.Date == "":
		return "Made by " + m.Program + "."
	}
	return "Made by " + m.Program + " on " + m.Date + "."
}

// HTML writes the whole report on a rig, with its figures, further parts and the rig's
// values, as one page without outside parts.
func HTML(w io.Writer, r *rig.Rig, rep assess.Report, made Made, parts ...Document) error {
	data := struct {
		assess.Report
		Made    Made
		Inputs  []rig.Setting
		Figures []drawn
		Parts   []part
	}{Report: rep, Made: made, Inputs: r.Settings()}
	for _, d := range parts {
		data.Parts = append(data.Parts, d.drawn())
	}
	for _, f := range figure.Of(r) {
		data.Figures = append(data.Figures, drawn{f, template.HTML(SVG(f))}) // our own drawing, its texts escaped
	}
	return page.Execute(w, data)
}

var page = template.Must(template.New("report").Funcs(template.FuncMap{"figure": Figure, "tally": tally, "sentence": sentence}).Parse(pageText))

// Figure writes a number as the report does.
func Figure(v float64) string {
	if math.Abs(v) < naught {
		return "0"
	}
	if math.Abs(v) >= 1e4 {
		return fmt.Sprintf("%.0f", v)
	}
	return fmt.Sprintf("%.4g", v)
}

// naught is what an arithmetic that should give zero leaves: binary fractions of numbers
// of order one. Doubled, nothing: no line has a value as small as that.
const naught = 1e-9

// sentence begins with a capital and ends with a full stop.
func sentence(s string) string {
	if s == "" {
		return ""
	}
	r := []rune(s)
	r[0] = unicode.ToUpper(r[0])
	if s = string(r); s[len(s)-1] != '.' {
		s += "."
	}
	return s
}

// tally is how many lines do what, in a sentence.
func tally(rep assess.Report) string {
	n := rep.Tally()
	parts := append([]string{fmt.Sprintf("%d lines pass, %d warn, %d fail", n.Pass, n.Warn, n.Fail)}, n.Apart()...)
	return strings.Join(parts, ", ") + "; the worst comes first."
}

// look is the style of all our reports: the ink and paper of the program's pages; lines
// become blocks where a table is too wide.
const look = `
:root{--paper:#f5f4ec;--desk:#e7e6db;--ink:#14233c;--soft:#4b5870;--hair:#9aa3b2;--signal:#c2300f}
html{background:var(--desk);color:var(--ink);font:16px/1.5 "Liberation Sans",Arial,sans-serif;-webkit-text-size-adjust:100%}
body{background:var(--paper);border:1px solid var(--hair);outline:2.5px solid var(--ink);outline-offset:-9px;margin:12px auto;max-width:64em;padding:18px 26px 26px;box-sizing:border-box}
h1{font-size:1.6em;line-height:1.2;font-weight:700}
h2{font-size:1.05em;font-weight:700;border-bottom:1px solid var(--ink);margin-top:2em}
table{border-collapse:collapse;width:100%}
th{font-weight:400;color:var(--soft);border-bottom:1px solid var(--ink)}
th,td{text-align:left;vertical-align:top;padding:.3em .8em .3em 0}
td{border-bottom:1px solid var(--hair)}
th.n,td.n{text-align:right;white-space:nowrap}
tr.noted td{border-bottom:0;padding-bottom:0}td.note{padding-top:0}
.fail,.off{color:var(--signal);font-weight:700}.warn{font-weight:700}
details{margin:.2em 0}summary{cursor:pointer}
figure{margin:2em 0}figcaption{max-width:45em}
svg{max-width:100%;height:auto;background:#fbfaf6}
.small,.note{font-size:.85em}
.keys td{padding:.1em .8em .1em 0;overflow-wrap:anywhere}
@media(max-width:46em){body{margin:0;padding:14px 20px;border:0;outline-offset:-6px}
.lines,.lines tbody{display:block;overflow-wrap:anywhere}.lines thead{display:none}.lines tr{display:block;border-bottom:1px solid var(--hair);padding:.5em 0}.lines td{display:inline;border:0;padding:0 .5em 0 0}
.lines td:last-child,.lines td.note{display:block}.lines td:empty{display:none}
.checks td:nth-child(5):not(:empty)::before{content:"margin "}}
@media print{html,body{background:#fff}body{border:0;outline:0;margin:0;max-width:none}figure,tr{break-inside:avoid}}
`

const pageText = `<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>Judgement of {{.Rig}}</title>
<style>
` + look + `</style></head><body>
<h1>Judgement of {{.Rig}}</h1>
<p>Verdict: <span class="{{.Verdict}}">{{.Verdict}}</span>. {{tally .Report}} A real pair of magnets lies within 15&nbsp;% of these forces.{{with .Made.String}} {{.}}{{end}}</p>
{{with .Remarks}}<ul>{{range .}}<li>{{sentence .}}</li>{{end}}</ul>
{{end}}<table class="lines checks"><thead><tr><th>verdict</th><th>check</th><th>value</th><th>limit</th><th>margin</th><th>unit</th><th>why, and what to change</th></tr></thead><tbody>
{{range .Checks}}<tr><td class="{{.Counts}}">{{.Word}}</td><td>{{.Title}}<br><span class="small">{{.ID}}</span></td>{{if .HasNumber}}<td class="n">{{figure .Value}}</td><td class="n">{{.Bound}} {{figure .Missed}}</td><td class="n">{{figure .Spare}}</td>{{else}}<td class="n">–</td><td></td><td></td>{{end}}<td>{{.Unit}}</td>
<td>{{sentence .Why}}{{if .Accepted}} <b>Accepted:</b> {{sentence .Accepted}}{{else if .Change}} <b>Change:</b> {{.Change}}.{{end}}
<details class="small"><summary>formula and source</summary>{{if .Explain}}<p>{{.Explain}}</p>{{end}}<p>Formula: {{.Formula}}<br>Holds for: {{.Range}}<br>Source: {{.Source}}</p></details></td></tr>
{{end}}</tbody></table>
{{range .Parts}}<h2>{{.Title}}</h2>
<p>{{.Lead}}</p>
<table class="lines"><thead><tr>{{range $i, $c := .Head}}<th{{if gt $i 1}} class="n"{{end}}>{{$c}}</th>{{end}}</tr></thead><tbody>
{{range .Rows}}{{$off := .IsOff}}<tr>{{range $i, $c := .Cells}}<td class="{{if gt $i 1}}n{{end}}{{if and $off (eq $i 0)}} fail{{end}}">{{$c}}</td>{{end}}</tr>
{{if .Note}}<tr><td></td><td class="small" colspan="{{len .Cells}}">{{.Note}}</td></tr>
{{end}}{{end}}</tbody></table>
{{range .Drawn}}<figure id="{{.ID}}">{{.SVG}}<figcaption>{{.Caption}}</figcaption></figure>
{{end}}<ul class="small">{{range .Notes}}<li>{{.}}</li>
{{end}}</ul>
{{end}}<h2>Drawings</h2>
{{range .Figures}}<figure id="{{.ID}}">{{.SVG}}<figcaption>{{.Caption}}</figcaption></figure>
{{end}}
<h2>Cautions</h2>
<ul>{{range .Cautions}}<li>{{.Text}} <span class="small">({{.Source}})</span></li>
{{end}}</ul>
<h2>The rig's values</h2>
<p class="small">As the rig file has them, with what it leaves out and the program fills in.</p>
<table class="keys"><tbody>{{range .Inputs}}<tr><td>{{.Key}}</td><td>{{.Value}}</td></tr>
{{end}}</tbody></table>
</body></html>
`
