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
		"game": {"game.js", "parts.js", "requests.js", "strength.js"}, "bench": {"bench.js", "camera.js", "parts.js", "requests.js"},
		"bringup": {"bringup.js", "camera.js"}, "office": {"office.js", "trial.js"},
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
	s := New(&recorder{})
	s.Office = http.NotFoundHandler()
	h := s.Handler()
	refs := regexp.MustCompile(`(?:href|src)="([^"#]+)`)
	for _, path := range []string{"/", "/bench", "/office"} {
		w := call(h, http.MethodGet, path, "")
		if w.Code != 200 {
			t.Fatalf("%s: %d", path, w.Code)
		}
		for _, m := range refs.FindAllStringSubmatch(w.Body.String(), -1) {
			if strings.HasPrefix(m[1], "office/") { // what the office has drawn
				continue
			}
			if got := call(h, http.MethodGet, "/"+strings.TrimPrefix(m[1], "./"), "").Code; got != 200 {
				t.Errorf("%s links to %s: status %d", path, m[1], got)
			}
		}
	}
	for _, f := range []string{"game.html", "bench.html", "bringup.html", "office.html", "specimens.html"} {
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

// What a reader of the screen needs of each page: a language, a title, one heading of the first
// rank, names that are there, and no id twice (WCAG 2.2: 3.1.1, 2.4.2, 1.3.1, 4.1.2).
func TestPagesCanBeReadAloud(t *testing.T) {
	ids, refs := regexp.MustCompile(`\sid="([\w-]+)"`), regexp.MustCompile(`(?:aria-labelledby|for)="([\w-]+)"|href="#([\w-]+)"`)
	for _, f := range []string{"game.html", "bench.html", "bringup.html", "office.html"} {
		text, seen := pageText(t, f), map[string]bool{}
		for _, m := range ids.FindAllStringSubmatch(text, -1) {
			if seen[m[1]] {
				t.Errorf("%s has the id %s twice", f, m[1])
			}
			seen[m[1]] = true
		}
		for _, m := range refs.FindAllStringSubmatch(text, -1) {
			if name := m[1] + m[2]; !seen[name] && name != "dialogtitle" { // a dialog brings its title with it
				t.Errorf("%s names #%s, which is not there", f, name)
			}
		}
		for _, must := range []string{`<html lang="en">`, "<title>", `name="viewport"`, "<main>", `<nav `} {
			if !strings.Contains(text, must) {
				t.Errorf("%s lacks %s", f, must)
			}
		}
		if n := strings.Count(text, "<h1"); n != 1 {
			t.Errorf("%s has %d headings of the first rank", f, n)
		}
		for _, tag := range regexp.MustCompile(`<(?:section|nav|dl|dialog|img)\b[^>]*>`).FindAllString(text, -1) {
			if !regexp.MustCompile(`aria-label|alt="|class="(side|log|stopside)|id="keys"`).MatchString(tag) {
				t.Errorf("%s: %s has no name", f, tag)
			}
		}
	}
}

// The Drawing office alone works no machine; beside a game it is one page more.
func TestOfficeAloneWorksNoMachine(t *testing.T) {
	for _, isAlone := range []bool{true, false} {
		s := New(nil)
		if !isAlone {
			s = New(&recorder{})
		}
		s.Office = http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { _, _ = w.Write([]byte("at " + r.URL.Path)) })
		h := s.Handler()
		if w := call(h, http.MethodGet, "/office/plots", ""); w.Code != 200 || w.Body.String() != "at /plots" {
			t.Errorf("alone %v: %d %q", isAlone, w.Code, w.Body)
		}
		if got := call(h, http.MethodGet, "/", ""); (got.Code == http.StatusFound) != isAlone {
			t.Errorf("alone %v: the first page is %d", isAlone, got.Code)
		}
		if got := call(h, http.MethodGet, "/bench", "").Code; (got == 404) != isAlone {
			t.Errorf("alone %v: Bench is %d", isAlone, got)
		}
		for _, do := range []string{"halt", "resume", "hand"} {
			if got := call(h, http.MethodPost, "/api/"+do, "{}").Code; (got == 404 || got == 405) != isAlone {
				t.Errorf("alone %v: %s is %d", isAlone, do, got)
			}
		}
	}
}
