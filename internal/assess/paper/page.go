// SPDX-License-Identifier: Apache-2.0

package paper

import (
	"fmt"
	"html/template"
	"io"
	"math"
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
	place(s, f, figureWidth)
	return s.Close()
}

// HTML writes the whole report on a rig, with its figures and further parts, as one page
// without outside parts.
func HTML(w io.Writer, r *rig.Rig, rep assess.Report, parts ...Document) error {
	data := struct {
		assess.Report
		Figures []drawn
		Parts   []part
		Judged  []rig.Setting
	}{Report: rep, Judged: r.Settings()}
	for _, d := range parts {
		data.Parts = append(data.Parts, d.drawn())
	}
	for _, f := range figure.Of(r) {
		data.Figures = append(data.Figures, drawn{f, template.HTML(SVG(f))}) // our own drawing, its texts escaped
	}
	return page.Execute(w, data)
}

var page = template.Must(template.New("report").Funcs(template.FuncMap{"figure": Figure, "sign": sign, "sentence": sentence}).Parse(pageText))

// Figure writes a number as the report does.
func Figure(v float64) string {
	if math.Abs(v) >= 1e4 {
		return fmt.Sprintf("%.0f", v)
	}
	return fmt.Sprintf("%.4g", v+0)
}

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

// sign says on which side of the limit a value should be.
func sign(c assess.Check) string {
	if (c.Value > c.Limit) == (c.Margin > 0) {
		return "at least"
	}
	return "at most"
}

const pageText = `<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>Judgement of {{.Rig}}</title>
<style>
body{font:16px/1.5 sans-serif;color:#1c2430;background:#f7f6f1;margin:2em auto;max-width:60em;padding:0 1em}
h1,h2{font-weight:600}
table{border-collapse:collapse;width:100%}
th,td{text-align:left;vertical-align:top;padding:.3em .8em .3em 0;border-bottom:1px solid #b9bcb7}
th.n{text-align:right}td.n{text-align:right;white-space:nowrap}
.fail{color:#b3261e;font-weight:700}.warn{font-weight:700}
details{margin:.2em 0}summary{cursor:pointer}
figure{margin:2em 0}figcaption{max-width:45em}
svg{max-width:100%;height:auto;background:#fbfaf6}
.small{font-size:.85em}
@media screen and (max-width:45em){.checks thead{display:none}.checks tr{display:block;border-bottom:1px solid #b9bcb7;padding:.4em 0}.checks td{border:0;padding:0 .5em 0 0;display:inline-block}.checks td:last-child{display:block}}
@media print{body{background:#fff}figure,tr{break-inside:avoid}}
</style></head><body>
<h1>Judgement of {{.Rig}}</h1>
<p>Verdict: <span class="{{.Verdict}}">{{.Verdict}}</span>. The worst line comes first. A real pair of magnets lies within 15&nbsp;% of these forces.</p>
<table class="checks"><thead><tr><th>verdict</th><th>check</th><th>value</th><th>limit</th><th>margin</th><th>unit</th><th>why, and what to change</th></tr></thead><tbody>
{{range .Checks}}<tr><td class="{{.Verdict}}">{{.Verdict}}</td><td>{{.Title}}<br><span class="small">{{.ID}}</span></td>{{if or .Value .Limit}}<td class="n">{{figure .Value}}</td><td class="n">{{sign .}} {{figure .Limit}}</td><td class="n">{{figure .Margin}}</td>{{else}}<td class="n">–</td><td></td><td></td>{{end}}<td>{{.Unit}}</td>
<td>{{sentence .Why}}{{if .Change}} <b>Change:</b> {{.Change}}.{{end}}
<details class="small"><summary>formula and source</summary>{{if .Explain}}<p>{{.Explain}}</p>{{end}}<p>Formula: {{.Formula}}<br>Holds for: {{.Range}}<br>Source: {{.Source}}</p></details></td></tr>
{{end}}</tbody></table>
{{range .Parts}}<h2>{{.Title}}</h2>
<p>{{.Lead}}</p>
<table><thead><tr>{{range $i, $c := .Head}}<th{{if gt $i 1}} class="n"{{end}}>{{$c}}</th>{{end}}</tr></thead><tbody>
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
<h2>What was judged</h2>
<p>The numbers of the rig file, and what was taken where it gives none.</p>
<table class="small"><tbody>
{{range .Judged}}<tr><td>{{.Key}}</td><td>{{.Value}}</td></tr>
{{end}}</tbody></table>
</body></html>
`
