// SPDX-License-Identifier: Apache-2.0

package web

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/base32"
	"html/template"
	"net"
	"net/http"
	"strings"
	"sync"
	"time"
)

const (
	// codeLetters leaves out what is misread on a screen: I, L, O, U, 0, 1.
	codeLetters = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
	cookieName  = "boardhand"
	codeKey     = "code"
)

// NewCode makes an access code to be typed or scanned.
func NewCode() string {
	b := make([]byte, codeLength)
	for i := range b {
		b[i] = codeLetters[pick(len(codeLetters))]
	}
	return string(b)
}

// pick is a number below n, all alike.
func pick(n int) int {
	for b := [1]byte{}; ; {
		_, _ = rand.Read(b[:]) // never fails (package documentation)
		if int(b[0]) < 256-256%n {
			return int(b[0]) % n
		}
	}
}

// access lets in who has the code, or has had it since the program started.
type access struct {
	code  string // empty: everybody
	token string // in the cookie: says nothing about the code
	now   func() time.Time

	mu    sync.Mutex
	since time.Time // the minute being counted
	wrong map[string]int
	all   int
}

func newAccess(code string, now func() time.Time) *access {
	b := make([]byte, 20)
	_, _ = rand.Read(b) // never fails
	return &access{code: code, token: base32.StdEncoding.EncodeToString(b), now: now, wrong: map[string]int{}}
}

// verdict is what becomes of a call.
type verdict int

const (
	admitted verdict = iota
	welcomed         // admitted with the code: the cookie goes with the answer
	noCode
	wrongCode
	tooMany // wrong codes: none is looked at for a while
)

// judge looks at a call's cookie and code.
func (a *access) judge(r *http.Request) verdict {
	if a.code == "" {
		return admitted
	}
	if c, err := r.Cookie(cookieName); err == nil && equal(c.Value, a.token) {
		return admitted
	}
	code := r.URL.Query().Get(codeKey)
	if code == "" {
		return noCode
	}
	from, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		from = r.RemoteAddr
	}
	return a.try(from, code)
}

func (a *access) try(from, code string) verdict {
	a.mu.Lock()
	defer a.mu.Unlock()
	if now := a.now(); now.Sub(a.since) >= triesTime {
		a.since, a.all = now, 0
		clear(a.wrong)
	}
	switch {
	case a.wrong[from] >= triesEach || a.all >= triesAll:
		return tooMany
	case equal(strings.ToUpper(strings.TrimSpace(code)), strings.ToUpper(a.code)):
		return welcomed
	}
	a.wrong[from]++
	a.all++
	return wrongCode
}

func equal(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }

// cookie is what lets a page in from now on.
func (a *access) cookie() *http.Cookie {
	return &http.Cookie{Name: cookieName, Value: a.token, Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode}
}

// policyOfDoor lets the page that asks for the code send it here.
var policyOfDoor = strings.Replace(policy, "form-action 'none'", "form-action 'self'", 1)

// turnAway asks a person for the code, and tells a program that it needs one.
func turnAway(w http.ResponseWriter, r *http.Request, v verdict) {
	status, text := http.StatusUnauthorized, "Type the access code that the program has printed."
	switch v {
	case wrongCode:
		status, text = http.StatusForbidden, "That is not the access code. It is printed where the program runs."
	case tooMany:
		status, text = http.StatusTooManyRequests, "Too many wrong codes. Wait a minute, then try again."
		w.Header().Set("Retry-After", "60")
	}
	w.Header().Set("Cache-Control", "no-store")
	if r.Method != http.MethodGet || !strings.Contains(r.Header.Get("Accept"), "text/html") {
		Refuse(w, status, errorText(text))
		return
	}
	w.Header().Set("Content-Security-Policy", policyOfDoor)
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_ = door.Execute(w, text) // a page that went away needs no door
}

type errorText string

// Error is the text.
func (e errorText) Error() string { return string(e) }

// door is the page that asks for the access code.
var door = template.Must(template.New("door").Parse(`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Access code · Boardhand</title>
</head>
<body>
<h1>Boardhand</h1>
<form method="get" action="/">
<p><label for="code">{{.}}</label></p>
<p><input id="code" name="code" autocomplete="off" autocapitalize="characters" autofocus> <button>Open</button></p>
</form>
</body>
</html>
`))
