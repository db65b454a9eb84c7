// SPDX-License-Identifier: Apache-2.0

package handbook_test

import (
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"testing"

	"boardhand/internal/handbook"
)

// shown is what a browser gets of a page.
func shown(t *testing.T, name string) string {
	t.Helper()
	w := httptest.NewRecorder()
	handbook.Handler().ServeHTTP(w, httptest.NewRequest(http.MethodGet, "/"+name, nil))
	if w.Code != http.StatusOK {
		t.Fatalf("%s: %d %s", name, w.Code, w.Body)
	}
	return w.Body.String()
}

// Every page is shown whole, asks nothing of other servers, and keeps the pages' policy:
// no style in a tag, no script.
func TestEveryPageIsServed(t *testing.T) {
	index := shown(t, handbook.Index)
	for _, path := range pages(t) {
		name := filepath.Base(path)
		html := shown(t, name)
		title, _, _ := strings.Cut(strings.TrimPrefix(read(t, path), "# "), "\n")
		if !strings.Contains(html, "<title>"+title+" · Boardhand</title>") || strings.Count(html, "<h1") != 1 {
			t.Errorf("%s: no title %q, or not one heading", name, title)
		}
		for _, bad := range []string{"http://", "https://", "style=", "<script", `href="../internal`, "| --- |"} {
			for line := range strings.Lines(html) {
				if strings.Contains(line, bad) && !strings.Contains(line, "<code") && !strings.Contains(line, "127.0.0.1") {
					t.Errorf("%s has %q in %q", name, bad, line)
				}
			}
		}
		if name != handbook.Index && !strings.Contains(index, `href="`+name) {
			t.Errorf("the index does not lead to %s", name)
		}
	}
}

func TestWhatIsNotThere(t *testing.T) {
	for path, want := range map[string]int{"/nothing.md": http.StatusNotFound, "/docs.go": http.StatusNotFound, "/": http.StatusOK, "/wiring-gcode.svg": http.StatusOK} {
		w := httptest.NewRecorder()
		handbook.Handler().ServeHTTP(w, httptest.NewRequest(http.MethodGet, path, nil))
		if w.Code != want {
			t.Errorf("%s: %d, want %d", path, w.Code, want)
		}
	}
}
