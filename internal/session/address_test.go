// SPDX-License-Identifier: Apache-2.0

package session

import (
	"strings"
	"testing"
)

func TestCheckAddress(t *testing.T) {
	for _, c := range []struct {
		addr   string
		remote bool
		want   string // "": it is good
	}{
		{"127.0.0.1:8640", false, ""}, {"localhost:0", false, ""}, {"[::1]:80", false, ""}, {"0.0.0.0:8640", true, ""}, {":8640", true, ""},
		{"8640", false, `--addr must be HOST:PORT, like 127.0.0.1:8640; got "8640"`},
		{"127.0.0.1:99999", false, `the port must be 0 to 65535`},
		{"127.0.0.1:-1", false, `the port must be 0 to 65535`},
		{"127.0.0.1:http", false, `the port must be 0 to 65535`},
		{"0.0.0.0:8640", false, "add --allow-remote if that is wanted, or give 127.0.0.1:8640"},
		{":8640", false, "add --allow-remote"}, {"table.example:1", false, "add --allow-remote"},
	} {
		err := checkAddress(c.addr, c.remote)
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s, remote %v: %v, want %q", c.addr, c.remote, err, c.want)
		}
	}
}
