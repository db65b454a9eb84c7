// SPDX-License-Identifier: Apache-2.0

package session

import (
	"bytes"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"boardhand/internal/rig"
	"boardhand/internal/terminal"
	"boardhand/internal/web"
)

// A game has the Drawing office of its rig beside it, to be looked at; a game whose rig accepts
// what is no check goes on without.
func TestPlayHasItsDrawingOffice(t *testing.T) {
	for text, has := range map[string]bool{rig.DefaultText: true, rig.DefaultText + "\n[accept]\n\"lift.romo\" = \"it will do\"\n": false} {
		var said bytes.Buffer
		e := &Session{Out: &terminal.Out{Err: &said}, Rig: rig.Default(), RigText: text, server: web.New(nil)}
		e.openOffice()
		if (e.server.Office != nil) != has || (said.Len() > 0) == has {
			t.Fatalf("an office: %v; it says %q", e.server.Office != nil, said.String())
		}
		if !has {
			continue
		}
		for path, want := range map[string]string{"/judgement": `"verdict":"pass"`, "/knobs": "404"} {
			w := httptest.NewRecorder()
			e.server.Office.ServeHTTP(w, httptest.NewRequest(http.MethodGet, path, nil))
			if !strings.Contains(w.Body.String(), want) {
				t.Errorf("%s: %d %.100s", path, w.Code, w.Body)
			}
		}
	}
}
