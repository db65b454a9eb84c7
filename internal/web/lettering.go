// SPDX-License-Identifier: Apache-2.0

package web

import (
	"embed"
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
