// SPDX-License-Identifier: Apache-2.0

package session

import (
	"strings"
	"testing"
)

// A page is for whoever answers there, at this machine alone.
func TestBringUpPageRefusals(t *testing.T) {
	for want, f := range map[string]BringUpOptions{
		"--page and --yes":                     {Page: true, Yes: true, Addr: "127.0.0.1:0"},
		"can be reached from other machines":   {Page: true, Addr: "0.0.0.0:8640"},
		"--pace must be 0":                     {Pace: -1},
		"--addr must be HOST:PORT":             {Page: true, Addr: "8640"},
		"--addr: the port must be 0 to 65535,": {Page: true, Addr: "127.0.0.1:99999"},
	} {
		if err := f.check(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: %v; want %q", f, err, want)
		}
	}
	if err := (BringUpOptions{Page: true, Addr: "127.0.0.1:0"}).check(); err != nil {
		t.Error(err)
	}
}
