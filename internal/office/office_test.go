// SPDX-License-Identifier: Apache-2.0

package office

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"html"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardhand/internal/assess"
	"boardhand/internal/assess/whatif"
	"boardhand/internal/judging"
	"boardhand/internal/office/edition"
	"boardhand/internal/office/trial"
	"boardhand/internal/rig"
	"boardhand/internal/terminal"
	"boardhand/internal/web"
)

// desk is an office of a rig file of its own, served as Run does.
type desk struct {
	*Office
	path  string
	pages *web.Server
}

func newDesk(t *testing.T, text string) desk {
	t.Helper()
	d := desk{path: filepath.Join(t.TempDir(), "rig.toml"), pages: web.New(nil)}
	d.save(t, text)
	d.Office = Watching(d.path, edition.Made{Program: "boardhand test"}, d.pages.Publish)
	d.pages.Office = d.Handler()
	d.Look()
	return d
}

// save writes the rig file; each save is at another time, whatever the clock's steps.
func (d desk) save(t *testing.T, text string) {
	t.Helper()
	was, _ := os.Stat(d.path)
	if err := os.WriteFile(d.path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	if was != nil {
		then := was.ModTime().Add(1e9)
		if err := os.Chtimes(d.path, then, then); err != nil {
			t.Fatal(err)
		}
	}
}

// call asks the pages.
func (d desk) call(method, path, body string, change ...func(*http.Request)) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, path, strings.NewReader(body))
	r.Host = "127.0.0.1:8640"
	if method == http.MethodPost {
		r.Header.Set("Content-Type", "application/json")
	}
	for _, c := range change {
		c(r)
	}
	w := httptest.NewRecorder()
	d.pages.Handler().ServeHTTP(w, r)
	return w
}

// get reads JSON of the office.
func get[T any](t *testing.T, d desk, path string) (out T) {
	t.Helper()
	w := d.call(http.MethodGet, "/office/"+path, "")
	if err := json.Unmarshal(w.Body.Bytes(), &out); err != nil || w.Code != 200 {
		t.Fatalf("%s: %d, %v\n%.200s", path, w.Code, err, w.Body)
	}
	return out
}

// with is the default rig's text with values of its own.
func with(t *testing.T, values ...string) string {
	t.Helper()
	text := rig.DefaultText
	for _, v := range values {
		s, err := rig.ParseSetting(v)
		if err != nil {
			t.Fatal(err)
		}
		if text, err = rig.Patch(text, s.Key, s.Value); err != nil {
			t.Fatal(err)
		}
	}
	return text
}

// said reads what `assess --json` prints of a rig file.
func said(t *testing.T, q judging.Question, path string, into any) {
	t.Helper()
	var out bytes.Buffer
	if err := q.Answer(t.Context(), &terminal.Out{W: &out, Err: io.Discard, JSON: true}, []string{path}); err != nil && !errors.Is(err, terminal.ErrNo) {
		t.Fatal(err)
	}
	if err := json.Unmarshal(out.Bytes(), into); err != nil {
		t.Fatal(err)
	}
}

func asJSON(t *testing.T, v any) string {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// The page says what `assess` says, line by line, of a rig that passes, of one that fails, and of
// one with warnings, some of them accepted.
func TestPageSaysWhatAssessSays(t *testing.T) {
	accepted := with(t, `camera.height="550 mm"`) + "\n[accept]\ncaution.flux = \"glued, and out of reach of children\"\n"
	for verdict, text := range map[assess.Verdict]string{assess.Pass: rig.DefaultText, assess.Fail: with(t, `board.square="30 mm"`, `lift.drop="8 mm"`), assess.Warn: accepted} {
		d := newDesk(t, text)
		page, want := get[edition.Judgement](t, d, "judgement"), assess.Report{}
		said(t, judging.Question{}, d.path, &want)
		if want.Verdict != verdict || page.Verdict != want.Verdict || len(page.Checks) != len(want.Checks) || asJSON(t, page.Cautions) != asJSON(t, want.Cautions) {
			t.Errorf("the page says %s of %d lines, assess %s of %d; want %s", page.Verdict, len(page.Checks), want.Verdict, len(want.Checks), verdict)
			continue
		}
		for i, c := range page.Checks {
			if asJSON(t, c.Check) != asJSON(t, want.Checks[i]) {
				t.Errorf("%s: the page has\n%s\nassess\n%s", verdict, asJSON(t, c.Check), asJSON(t, want.Checks[i]))
			}
			if (c.Counts == assess.Fail) != (c.Word == "fails") || c.Word == "" || c.Counts == assess.Fail && c.Is != "" && c.Left > 0 {
				t.Errorf("%s counts as %q, is called %q, has %g left", c.ID, c.Counts, c.Word, c.Left)
			}
		}
	}
}

// A file that was saved is judged anew once it stays as it is; a broken one is told of by the
// program's one error, on all pages, over the rig as it was; and when it is right again, that is
// gone.
func TestSavedAndBroken(t *testing.T) {
	d := newDesk(t, rig.DefaultText)
	one, two := d.viewer(t), d.viewer(t)
	d.save(t, with(t, `lift.drop="8 mm"`))
	d.Look()
	if now, _ := d.newest(); now.Number != 1 {
		t.Error("a file that was saved just now is read at once: an editor may be at work")
	}
	d.Look()
	d.Look()
	if j := get[edition.Judgement](t, d, "judgement"); j.Verdict != assess.Fail || !strings.Contains(j.Headline, "It will not work yet: 1 line fails.") {
		t.Errorf("saved anew: %s, %q", j.Verdict, j.Headline)
	}
	d.save(t, strings.Replace(rig.DefaultText, `drop = "20 mm"`, `drop = "20"`, 1))
	_, want := rig.Load(d.path, rig.Machine)
	d.Look()
	d.Look()
	if now, broken := d.newest(); broken != want.Error() || now.Number != 2 || get[edition.Judgement](t, d, "judgement").Verdict != assess.Fail {
		t.Errorf("broken: %q, want %q", broken, want)
	}
	if err := os.Remove(d.path); err != nil {
		t.Fatal(err)
	}
	d.Look()
	d.Look()
	if _, broken := d.newest(); !strings.Contains(broken, "no such file") {
		t.Errorf("removed: %q", broken)
	}
	d.save(t, rig.DefaultText)
	d.Look()
	d.Look()
	for name, v := range map[string]*viewer{"one": one, "two": two} {
		if got := v.until(t, 3); got.Broken != "" || !v.saw(want.Error()) {
			t.Errorf("viewer %s ends with %+v, having seen %+v", name, got, v.seen)
		}
	}
}

// viewer is one open page.
type viewer struct {
	lines *bufio.Scanner
	seen  []web.Office
}

func (d desk) viewer(t *testing.T) *viewer {
	t.Helper()
	srv := httptest.NewServer(d.pages.Handler())
	t.Cleanup(srv.Close)
	r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, srv.URL+"/events", nil)
	if err != nil {
		t.Fatal(err)
	}
	res, err := srv.Client().Do(r)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = res.Body.Close() })
	v := &viewer{lines: bufio.NewScanner(res.Body)}
	v.until(t, 1)
	return v
}

// until reads the stream up to an edition of that number.
func (v *viewer) until(t *testing.T, number uint64) web.Office {
	t.Helper()
	for v.lines.Scan() {
		text, ok := strings.CutPrefix(v.lines.Text(), "data: {")
		if !ok {
			continue
		}
		var e web.Event
		if err := json.Unmarshal([]byte("{"+text), &e); err != nil {
			t.Fatal(err)
		}
		if e.Office == nil {
			continue
		}
		if v.seen = append(v.seen, *e.Office); e.Office.Edition == number && e.Office.Broken == "" {
			return *e.Office
		}
	}
	t.Fatalf("the stream ended before edition %d: %v", number, v.lines.Err())
	return web.Office{}
}

func (v *viewer) saw(broken string) bool {
	for _, o := range v.seen {
		if o.Broken == broken {
			return true
		}
	}
	return false
}

// What is tried is what `assess --set` says; the file stays as it is, and the lines that the page
// shows say the same when they are written into it.
func TestTryIsSet(t *testing.T) {
	d := newDesk(t, with(t, `board.square="30 mm"`))
	before, _ := os.ReadFile(d.path)
	w := d.call(http.MethodPost, "/office/try", `{"set":[{"key":"board.square","value":"\"38 mm\""},{"key":"board.rim","value":"\"36 mm\""},{"key":"pieces.king.base","value":"\"16 mm\""}]}`)
	var got trial.Result
	if err := json.Unmarshal(w.Body.Bytes(), &got); err != nil || w.Code != 200 {
		t.Fatalf("%d %v %s", w.Code, err, w.Body)
	}
	var want whatif.Comparison
	said(t, judging.Question{Set: []string{"board.square=38 mm", "board.rim=36 mm", "pieces.king.base=16 mm"}}, d.path, &want)
	if asJSON(t, got.Verdicts) != asJSON(t, want.Worst) || asJSON(t, got.Keys) != asJSON(t, want.Keys) || len(got.Lines) != len(want.Lines) || got.Same != want.Same {
		t.Fatalf("tried: %v, %v, %d lines; assess --set says %v, %v, %d", got.Verdicts, got.Keys, len(got.Lines), want.Worst, want.Keys, len(want.Lines))
	}
	for i, l := range got.Lines {
		if asJSON(t, l.Before.Check) != asJSON(t, want.Lines[i].A) || asJSON(t, l.After.Check) != asJSON(t, want.Lines[i].B) {
			t.Errorf("%s: %+v, assess --set says %+v", l.ID, l.After.Check, want.Lines[i].B)
		}
	}
	if now, _ := os.ReadFile(d.path); !bytes.Equal(now, before) {
		t.Error("the rig file was written")
	}
	if want := "[board]\nsquare = \"38 mm\"    # now 30 mm\nrim = \"36 mm\"    # now 34 mm\n[pieces]\nking = { … base = \"16 mm\" … }    # now 17 mm\n"; got.Text != want {
		t.Errorf("the lines to write are\n%s", got.Text)
	}
}

// What cannot be tried is refused in the words of the rig file's own errors; another page may not
// try at all, nor one that comes by another name.
func TestTryRefused(t *testing.T) {
	d := newDesk(t, rig.DefaultText)
	for _, c := range []struct {
		name, body, want string
		status           int
		change           func(*http.Request)
	}{
		{"an unknown key", `{"set":[{"key":"lift.dorp","value":"5 mm"}]}`, "there is no key lift.dorp; nearest: lift.drop", 422, nil},
		{"no unit", `{"set":[{"key":"lift.drop","value":"5"}]}`, "has no unit", 422, nil},
		{"out of range", `{"set":[{"key":"board.square","value":"5 mm"}]}`, "15 mm to 80 mm", 422, nil},
		{"no value", `{"set":[{"key":"board.square"}]}`, "needs a key and a value", 400, nil},
		{"no JSON", `set`, "cannot read the JSON", 400, nil},
		{"too long", `{"set":[{"key":"` + strings.Repeat("x", largestPost) + `"}]}`, "cannot read the JSON", 400, nil},
		{"a form", `{"set":[]}`, "Content-Type application/json", 415, func(r *http.Request) { r.Header.Set("Content-Type", "text/plain") }},
		{"another page", `{"set":[]}`, "only this server's own pages", 403, func(r *http.Request) { r.Header.Set("Origin", "http://evil.example") }},
		{"another name", `{"set":[]}`, "not called that", 403, func(r *http.Request) { r.Host = "evil.example" }},
	} {
		change := c.change
		if change == nil {
			change = func(*http.Request) {}
		}
		if w := d.call(http.MethodPost, "/office/try", c.body, change); w.Code != c.status || !strings.Contains(w.Body.String(), c.want) {
			t.Errorf("%s: %d %s", c.name, w.Code, w.Body)
		}
	}
}

// Every file of every sheet and every plot that the page lists is there, and is what its name says.
func TestAllThatIsListedIsServed(t *testing.T) {
	d := newDesk(t, rig.DefaultText)
	begins := map[string]string{".pdf": "%PDF-", ".svg": "<svg ", ".dxf": "  0\nSECTION", ".csv": ""}
	kinds := map[string]int{}
	for _, s := range get[[]edition.Sheet](t, d, "sheets") {
		if len(s.Pictures) == 0 || s.Pages == 0 {
			t.Errorf("%s has no picture", s.Name)
		}
		for _, name := range append(s.Files, "all.pdf") {
			w := d.call(http.MethodGet, "/office/file/"+name, "")
			if w.Code != 200 || !strings.HasPrefix(w.Body.String(), begins[filepath.Ext(name)]) || w.Header().Get("Content-Type") == "" || w.Body.Len() == 0 {
				t.Errorf("%s: %d, %.20q", name, w.Code, w.Body)
			}
			kinds[filepath.Ext(name)]++
		}
	}
	for kind := range begins {
		if kinds[kind] == 0 {
			t.Errorf("no sheet has a %s", kind)
		}
	}
	for _, p := range get[[]edition.Plot](t, d, "plots") {
		if w := d.call(http.MethodGet, "/office/plot/"+p.ID, ""); w.Code != 200 || !strings.Contains(w.Body.String(), "<title>"+html.EscapeString(p.Title)) {
			t.Errorf("%s: %d", p.ID, w.Code)
		}
	}
	for path, want := range map[string]int{"report.html": 200, "report.pdf": 200, "file/nothing.pdf": 404, "plot/nothing": 404, "": 404} {
		if w := d.call(http.MethodGet, "/office/"+path, ""); w.Code != want {
			t.Errorf("%q: %d, want %d", path, w.Code, want)
		}
	}
}

// Only this machine may see the page.
func TestNothingListensBeyondLoopback(t *testing.T) {
	path := filepath.Join(t.TempDir(), "rig.toml")
	if err := os.WriteFile(path, []byte(rig.DefaultText), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, addr := range []string{":0", "0.0.0.0:0", "[::]:0", "192.0.2.1:0"} {
		if err := Run(context.Background(), &terminal.Out{W: &bytes.Buffer{}, Err: &bytes.Buffer{}}, path, Options{Addr: addr}); err == nil || !strings.Contains(err.Error(), "can be reached from other machines") {
			t.Errorf("%s: %v", addr, err)
		}
	}
}

// The rig in play is shown, and nothing can be tried there.
func TestRigInPlayIsShownOnly(t *testing.T) {
	o, err := Of("rig.toml", []byte(rig.DefaultText))
	if err != nil {
		t.Fatal(err)
	}
	d := desk{Office: o, pages: web.New(nil)}
	d.pages.Office = d.Handler()
	if j := get[edition.Judgement](t, d, "judgement"); j.Verdict != assess.Pass || d.Event().Office.IsWatched {
		t.Errorf("%s, %+v", j.Verdict, d.Event().Office)
	}
	if w := d.call(http.MethodPost, "/office/try", `{"set":[]}`); w.Code != 404 && w.Code != 405 {
		t.Errorf("tried: %d", w.Code)
	}
	if w := d.call(http.MethodGet, "/office/knobs", ""); w.Code != 404 {
		t.Errorf("knobs: %d", w.Code)
	}
}
