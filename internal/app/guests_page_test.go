// SPDX-License-Identifier: Apache-2.0

package app

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"net/http"
	"reflect"
	"slices"
	"strings"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/host"
	"boardhand/internal/web"
)

// viewer is a browser with a page open: it keeps what the stream tells as the
// page's own script does, and acts through the page's requests only.
type viewer struct {
	url    string
	body   io.Closer
	parts  chan part
	state  map[string]json.RawMessage
	now    web.Event // state, decoded
	log    []string  // newest last
	lines  uint64    // number of the newest
	broken error     // why the stream has ended, once parts is closed
}

// part is one message of the stream.
type part struct {
	whole bool
	text  []byte
}

// view opens a page.
func view(url string) (*viewer, error) {
	r, err := http.Get(url + "events")
	if err != nil {
		return nil, err
	}
	v := &viewer{url: url, body: r.Body, parts: make(chan part, 64), state: map[string]json.RawMessage{}}
	go v.read(r.Body)
	return v, nil
}

func (v *viewer) read(from io.Reader) {
	defer close(v.parts)
	s := bufio.NewScanner(from)
	s.Buffer(nil, 4<<20)
	for name := ""; s.Scan(); {
		if n, ok := strings.CutPrefix(s.Text(), "event: "); ok {
			name = n
		}
		if text, ok := strings.CutPrefix(s.Text(), "data: "); ok && name != "beat" {
			v.parts <- part{name == "snapshot", []byte(text)}
		}
	}
	v.broken = s.Err()
}

func (v *viewer) close() {
	_ = v.body.Close()
	for range v.parts { // until the reader has seen it
	}
}

// wait waits for the next message; it says false when the stream has ended.
func (v *viewer) wait() error {
	select {
	case p, ok := <-v.parts:
		if !ok {
			return fmt.Errorf("the stream has ended: %v", v.broken)
		}
		return v.take(p)
	case <-time.After(patienceFor):
		return fmt.Errorf("nothing has come from the machine for %v", patienceFor)
	}
}

// drain takes what has come.
func (v *viewer) drain() error {
	for {
		select {
		case p, ok := <-v.parts:
			if !ok {
				return fmt.Errorf("the stream has ended: %v", v.broken)
			}
			if err := v.take(p); err != nil {
				return err
			}
		default:
			return nil
		}
	}
}

// take lays a message over the state, as the page does.
func (v *viewer) take(p part) error {
	e := map[string]json.RawMessage{}
	if err := json.Unmarshal(p.text, &e); err != nil {
		return err
	}
	if p.whole {
		clear(v.state)
	}
	var lines []web.Line
	if err := json.Unmarshal(orNull(e["log"]), &lines); err != nil {
		return err
	}
	for _, l := range lines {
		v.log, v.lines = append(v.log, l.Text), l.N
	}
	delete(e, "log")
	var moves []string
	if _ = json.Unmarshal(orNull(e["moves"]), &moves); e["moves"] != nil && len(moves) < max(1, len(v.now.Moves)) {
		delete(v.state, "last_move")
		delete(v.state, "result")
	}
	maps.Copy(v.state, e)
	text, err := json.Marshal(v.state)
	if err != nil {
		return err
	}
	v.now = web.Event{}
	return json.Unmarshal(text, &v.now)
}

func orNull(b json.RawMessage) []byte {
	return append(bytes.Clone(b), []byte("null")[:4*btoi(len(b) == 0)]...)
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// post does what a button of the page does.
func (v *viewer) post(route string, body any) (status int, said string, err error) {
	data, err := json.Marshal(body)
	if err != nil {
		return 0, "", err
	}
	r, err := postOnce(v.url+"api/"+route, data)
	if err != nil {
		return 0, "", err
	}
	defer func() { _ = r.Body.Close() }()
	text, err := io.ReadAll(r.Body)
	return r.StatusCode, strings.TrimSpace(string(text)), err
}

// postOnce posts over a connection of its own: a kept one may be closed by the
// server, which ends idle ones, just as it is used again.
func postOnce(url string, data []byte) (*http.Response, error) {
	req, err := http.NewRequest(http.MethodPost, url, bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	req.Header.Set("Content-Type", "application/json")
	req.Close = true
	return http.DefaultClient.Do(req)
}

// steadyKeys are the parts that must be the same on all pages.
var steadyKeys = []string{"sentence", "state", "fen", "wanted", "phantoms", "hands", "legal", "pieces", "question", "offers", "moves", "last_move", "result", "visitor", "halted", "suspicion"}

// differs names the first part in which two pages show something else.
func (v *viewer) differs(o *viewer) string {
	for _, k := range steadyKeys {
		if !sameJSON(v.state[k], o.state[k]) {
			return fmt.Sprintf("%s: %s against %s", k, v.state[k], o.state[k])
		}
	}
	return ""
}

func sameJSON(a, b json.RawMessage) bool {
	var x, y any
	_, _ = json.Unmarshal(orNull(a), &x), json.Unmarshal(orNull(b), &y)
	empty := func(v any) bool {
		r := reflect.ValueOf(v)
		return v == nil || r.IsZero() || (r.Kind() == reflect.Slice || r.Kind() == reflect.Map) && r.Len() == 0
	}
	return reflect.DeepEqual(x, y) || empty(x) && empty(y)
}

// board is where the page shows the pieces.
func (v *viewer) board() (out board) {
	for _, p := range v.now.Pieces {
		if q, err := host.SquareOf(p.Square); err == nil {
			out[q], _ = chess.PieceLettered(p.Piece)
		}
	}
	return out
}

// offers says whether the page has a button for something.
func (v *viewer) offers(what string) bool {
	return slices.ContainsFunc(v.now.Offers, func(o web.Offer) bool { return o.Request.For == what })
}

// isAsked says whether a question waits.
func (v *viewer) isAsked() bool { return v.now.Question != nil && v.now.Question.Text != "" }

func (v *viewer) handsMay() bool { return v.now.Hands != nil && *v.now.Hands }

// position is the game's, as the page shows it.
func (v *viewer) position() (chess.Position, error) { return chess.ParseFEN(v.now.FEN) }
