// SPDX-License-Identifier: Apache-2.0

package web

import (
	"io/fs"
	"net/http"
	"regexp"
	"strings"
	"testing"
)

func pageText(t *testing.T, name string) string {
	t.Helper()
	b, err := fs.ReadFile(pages, "page/"+name)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// A script that asks for an element the sheet does not have fails only when
// somebody opens it; this finds it before.
func TestEveryElementAskedForIsThere(t *testing.T) {
	asks := regexp.MustCompile(`\$\('(\w+)'\)`)
	for sheet, scripts := range map[string][]string{
		"game": {"game.js", "parts.js", "requests.js"}, "bench": {"bench.js", "camera.js", "parts.js", "requests.js"},
		"bringup": {"bringup.js", "camera.js"},
	} {
		html := pageText(t, sheet+".html")
		for _, s := range scripts {
			for _, m := range asks.FindAllStringSubmatch(pageText(t, s), -1) {
				if !strings.Contains(html, `id="`+m[1]+`"`) {
					t.Errorf("%s asks for #%s, which %s.html lacks", s, m[1], sheet)
				}
			}
		}
	}
}

// The content policy forbids inline code and style, and the pages work
// without the internet: nothing may point outside.
func TestPagesAreSelfContained(t *testing.T) {
	h := New(nil).Handler()
	refs := regexp.MustCompile(`(?:href|src)="([^"#]+)`)
	for _, path := range []string{"/", "/bench"} {
		w := call(h, http.MethodGet, path, "")
		if w.Code != 200 {
			t.Fatalf("%s: %d", path, w.Code)
		}
		for _, m := range refs.FindAllStringSubmatch(w.Body.String(), -1) {
			if got := call(h, http.MethodGet, "/"+strings.TrimPrefix(m[1], "./"), "").Code; got != 200 {
				t.Errorf("%s links to %s: status %d", path, m[1], got)
			}
		}
	}
	for _, f := range []string{"game.html", "bench.html", "bringup.html", "specimens.html"} {
		if regexp.MustCompile(`<script[^>]*>[^<]|style=|\son\w+="`).MatchString(pageText(t, f)) {
			t.Errorf("%s has inline code or style, which the content policy blocks", f)
		}
	}
	imports := regexp.MustCompile(`from '\./([\w.]+)'`)
	outside := regexp.MustCompile(`https?://[\w.]+`)
	files, _ := fs.ReadDir(pages, "page")
	for _, f := range files {
		text := pageText(t, f.Name())
		for _, m := range imports.FindAllStringSubmatch(text, -1) {
			if got := call(h, http.MethodGet, "/static/"+m[1], "").Code; got != 200 {
				t.Errorf("%s imports %s: status %d", f.Name(), m[1], got)
			}
		}
		for _, u := range outside.FindAllString(text, -1) {
			if u != "http://www.w3.org" { // the SVG name space, never fetched
				t.Errorf("%s points to %s", f.Name(), u)
			}
		}
	}
}
