// SPDX-License-Identifier: Apache-2.0

package office

import (
	"encoding/json"
	"errors"
	"net/http"
	"path"
	"time"

	"boardhand/internal/office/edition"
	"boardhand/internal/office/trial"
	"boardhand/internal/rig"
	"boardhand/internal/web"
)

// Handler serves what the page shows and tries, below the path that it is mounted at:
//
//	GET  judgement     the checks of the newest edition, the cautions, the rig's values
//	GET  plots         the report's drawings; GET plot/NAME is one as SVG
//	GET  sheets        what is drawn of the rig; GET file/NAME is one of its files
//	GET  report.html   the report, also report.pdf
//	GET  knobs         what may be turned
//	POST try           {"set":[{"key","value"}…]}: the rig with other values
//
// An error is {"error":"…"}, said as the page shows it.
func (o *Office) Handler() http.Handler {
	m := http.NewServeMux()
	m.HandleFunc("GET /judgement", o.of(func(_ *http.Request, e *edition.Edition) (any, error) { return e.Judgement(), nil }))
	m.HandleFunc("GET /plots", o.of(func(_ *http.Request, e *edition.Edition) (any, error) { return e.Plots(), nil }))
	m.HandleFunc("GET /plot/{name}", o.of(plot))
	m.HandleFunc("GET /sheets", o.of(func(_ *http.Request, e *edition.Edition) (any, error) { return e.Sheets() }))
	m.HandleFunc("GET /file/{name}", o.of(file))
	m.HandleFunc("GET /report.html", o.of(func(_ *http.Request, e *edition.Edition) (any, error) {
		text, err := e.HTML()
		return document{"text/html; charset=utf-8", text}, err
	}))
	m.HandleFunc("GET /report.pdf", o.of(func(_ *http.Request, e *edition.Edition) (any, error) {
		text, err := e.PDF()
		return document{"application/pdf", text}, err
	}))
	if o.path != "" {
		m.HandleFunc("GET /knobs", o.of(func(_ *http.Request, e *edition.Edition) (any, error) { return trial.Knobs(e.Rig), nil }))
		m.HandleFunc("POST /try", o.try)
	}
	return m
}

// document is an answer that is no JSON.
type document struct {
	kind string
	text []byte
}

// refusal is an error with the status of its answer.
type refusal struct {
	status int
	error
}

func plot(r *http.Request, e *edition.Edition) (any, error) {
	svg, ok := e.Plot(r.PathValue("name"))
	if !ok {
		return nil, refusal{http.StatusNotFound, errors.New("the report has no such drawing")}
	}
	return document{"image/svg+xml", []byte(svg)}, nil
}

func file(r *http.Request, e *edition.Edition) (any, error) {
	name := r.PathValue("name")
	data, ok, err := e.File(name)
	if err == nil && !ok {
		err = refusal{http.StatusNotFound, errors.New("the sheets have no such file")}
	}
	kind := map[string]string{".svg": "image/svg+xml", ".pdf": "application/pdf", ".dxf": "image/vnd.dxf", ".csv": "text/csv; charset=utf-8"}[path.Ext(name)]
	return document{kind, data}, err
}

// try judges the newest edition with other values.
func (o *Office) try(w http.ResponseWriter, r *http.Request) {
	var asked struct {
		Set []rig.Setting `json:"set"`
	}
	if web.ReadPost(w, r, largestPost, &asked) {
		o.of(func(r *http.Request, e *edition.Edition) (any, error) { return o.with(r, e, asked.Set) })(w, r)
	}
}

// with judges an edition with other values.
func (o *Office) with(r *http.Request, e *edition.Edition, set []rig.Setting) (any, error) {
	for _, s := range set {
		if s.Key == "" || s.Value == "" {
			return nil, refusal{http.StatusBadRequest, errors.New("each of set needs a key and a value")}
		}
	}
	o.trying.Lock()
	defer o.trying.Unlock()
	if err := r.Context().Err(); err != nil { // the page asks for something newer already
		return nil, err
	}
	out, err := trial.Of(e, set)
	if err != nil {
		return nil, refusal{http.StatusUnprocessableEntity, err}
	}
	return out, nil
}

// of answers from the newest edition.
func (o *Office) of(answer func(*http.Request, *edition.Edition) (any, error)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		e, broken := o.newest()
		if e == nil {
			reply(w, nil, refusal{http.StatusConflict, errors.New(broken)})
			return
		}
		out, err := answer(r, e)
		reply(w, out, err)
	}
}

// reply writes an answer. It may have taken long to work out: the time to write it begins now.
func reply(w http.ResponseWriter, out any, err error) {
	_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(patience)) // a test's recorder has none
	h := w.Header()
	h.Set("Cache-Control", "no-store")
	var no refusal
	switch doc, isDocument := out.(document); {
	case err != nil:
		if !errors.As(err, &no) {
			no = refusal{http.StatusInternalServerError, err}
		}
		web.Refuse(w, no.status, no)
	case isDocument:
		h.Set("Content-Security-Policy", web.PolicyOfPaper)
		h.Set("Content-Type", doc.kind)
		_, _ = w.Write(doc.text)
	default:
		h.Set("Content-Type", "application/json")
		_ = json.NewEncoder(w).Encode(out)
	}
}
