package web

import (
	"io/fs"
	"net/http"
)

func (s *Server) addStories(m *http.ServeMux, files fs.FS) {}
