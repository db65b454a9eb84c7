// SPDX-License-Identifier: Apache-2.0

// Package handbook shows the manual of docs/ as pages in a browser. Its tests
// run every command that the manual shows and compute every number it gives.
package handbook

import (
	"bytes"
	_ "embed"
	"html/template"
	"io/fs"
	"net/http"
	"regexp"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"

	"boardhand/docs"
)

// Index is the page that the others are found from.
const Index = "manual.md"

//go:embed page.css
var style []byte

//go:embed page.html
var frame string

var (
	page = template.Must(template.New("page").Parse(frame))
	// The pages' policy allows no style in a tag, so columns are told by an attribute.
	markdown = goldmark.New(
		goldmark.WithExtensions(extension.NewTable(extension.WithTableCellAlignMethod(extension.TableCellAlignAttribute))),
		goldmark.WithParserOptions(parser.WithAutoHeadingID()),
	)
	// outward is a link to what the program does not carry with it: other files of the tree.
	outward = regexp.MustCompile(`<a href="\.\./[^"]*">(.*?)</a>`)
	heading = regexp.MustCompile(`(?m)^# (.+)$`)
	section = regexp.MustCompile(`(?s)<h2 id="([^"]*)">(.*?)</h2>`)
	typed   = regexp.MustCompile(`(?m)^(<pre><code class="language-console">)?(\$ .*)$`)
	table   = regexp.MustCompile(`(?s)<table>.*?</table>`)
)

// link is one line of a page's contents.
type link struct {
	ID   string
	Text template.HTML
}

// sheet is what a page shows.
type sheet struct {
	Title    string
	IsIndex  bool
	Sections []link
	Body     template.HTML
}

// Handler serves the manual: pages by the names of their files, and pictures.
func Handler() http.Handler {
	m := http.NewServeMux()
	m.HandleFunc("GET /{$}", func(w http.ResponseWriter, r *http.Request) { serve(w, r, Index) })
	m.HandleFunc("GET /page.css", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/css; charset=utf-8")
		_, _ = w.Write(style) // a page that went away needs no style
	})
	m.HandleFunc("GET /{name}", func(w http.ResponseWriter, r *http.Request) { serve(w, r, r.PathValue("name")) })
	return m
}

func serve(w http.ResponseWriter, r *http.Request, name string) {
	text, err := fs.ReadFile(docs.Files, name)
	switch {
	case err != nil:
		http.Error(w, "The manual has no such page; its first one is "+Index+".", http.StatusNotFound)
		return
	case !strings.HasSuffix(name, ".md"):
		http.ServeFileFS(w, r, docs.Files, name)
		return
	}
	out, err := html(name, text)
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_, _ = w.Write(out) // a page that went away needs no text
}

// html is one page, with a list of its sections where it has several.
func html(name string, text []byte) ([]byte, error) {
	var body bytes.Buffer
	if err := markdown.Convert(text, &body); err != nil {
		return nil, err
	}
	inside := outward.ReplaceAllString(body.String(), "$1")
	inside = table.ReplaceAllString(inside, `<div class="wide" tabindex="0" role="group" aria-label="Table">$0</div>`)
	inside = typed.ReplaceAllString(inside, "$1<b>$2</b>")
	s := sheet{Title: name, IsIndex: name == Index, Body: template.HTML(inside)}
	if m := heading.FindSubmatch(text); m != nil {
		s.Title = string(m[1])
	}
	for _, m := range section.FindAllStringSubmatch(inside, -1) {
		s.Sections = append(s.Sections, link{m[1], template.HTML(m[2])})
	}
	var out bytes.Buffer
	err := page.Execute(&out, s)
	return out.Bytes(), err
}
