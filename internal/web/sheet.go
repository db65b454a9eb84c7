// SPDX-License-Identifier: Apache-2.0

package web

import (
	"io/fs"
	"net/http"
)

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
