package web

import "net/http"

func serveLettering(w http.ResponseWriter, r *http.Request) { http.NotFound(w, r) }
