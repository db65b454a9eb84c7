// SPDX-License-Identifier: Apache-2.0

package web

import (
	"embed"
	"io/fs"
	"net/http"
)

// lettering holds the pages' own fonts, drawn by tools/lettering.
//
//go:embed letters/*.ttf
var lettering embed.FS

func serveLettering(w http.ResponseWriter, r *http.Request) {
	font, err := lettering.ReadFile("letters/" + r.PathValue("font"))
	if err != nil {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Content-Type", "font/ttf")
	w.Header().Set("Cache-Control", "no-cache")
	_, _ = w.Write(font) // a page that went away needs no letters
}

// sheet serves one page.
func sheet(files fs.FS, name string) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Cache-Control", "no-cache")
		http.ServeFileFS(w, r, files, name)
	})
}

// static serves what the pages bring with them; always asked for anew, so
// that a new program never runs with old pages.
func static(files fs.FS) http.Handler {
	next := http.FileServerFS(files)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Cache-Control", "no-cache")
		next.ServeHTTP(w, r)
	})
}
