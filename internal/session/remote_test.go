// SPDX-License-Identifier: Apache-2.0

package session

import (
	"bytes"
	"net"
	"strings"
	"testing"

	"rsc.io/qr"

	"boardhand/internal/terminal"
	"boardhand/internal/web"
)

func TestRemoteFlags(t *testing.T) {
	for _, c := range []struct {
		desc, addr, want string
		r                Remote
		err              string
	}{
		{desc: "as always", addr: "127.0.0.1:8640", want: "127.0.0.1:8640"},
		{desc: "others may come", addr: "127.0.0.1:8640", want: ":8640", r: Remote{Allow: true}},
		{desc: "at one address", addr: "192.0.2.1:80", want: "192.0.2.1:80", r: Remote{Allow: true, Given: true}},
		{desc: "a code of one's own", addr: "127.0.0.1:1", want: ":1", r: Remote{Allow: true, Code: "longenough"}},
		{desc: "a code for nobody", addr: "127.0.0.1:1", r: Remote{Code: "longenough"}, err: "--code goes with --allow-remote"},
		{desc: "a short code", addr: "127.0.0.1:1", r: Remote{Allow: true, Code: "1234"}, err: "at least 6"},
	} {
		err := c.r.check(c.addr)
		if (err == nil) != (c.err == "") || err != nil && !strings.Contains(err.Error(), c.err) {
			t.Errorf("%s: %v", c.desc, err)
		}
		if got := c.r.address(c.addr); err == nil && got != c.want {
			t.Errorf("%s: %s, want %s", c.desc, got, c.want)
		}
	}
}

func TestRemoteOpensOnlyWhenAsked(t *testing.T) {
	s := web.New(nil)
	r := Remote{}
	if r.open(s); s.AllowRemote || s.Code != "" {
		t.Error("open without being asked")
	}
	r.Allow = true
	if r.open(s); !s.AllowRemote || len(s.Code) < leastCode || s.Code != r.Code {
		t.Errorf("code %q", s.Code)
	}
}

func TestAddressesCanBeTypedElsewhere(t *testing.T) {
	all := &net.TCPAddr{IP: net.IPv6unspecified, Port: 8640}
	got := pageAddresses(all, "ABC234", []net.IP{net.ParseIP("192.0.2.7"), net.ParseIP("2001:db8::7")})
	if got[0] != "http://192.0.2.7:8640/?code=ABC234" || got[1] != "http://[2001:db8::7]:8640/?code=ABC234" {
		t.Errorf("got %v", got)
	}
	for _, a := range got {
		if strings.Contains(a, "[::]") {
			t.Errorf("%s cannot be typed", a)
		}
	}
	one := &net.TCPAddr{IP: net.ParseIP("192.0.2.7"), Port: 80}
	if got := pageAddresses(one, "a b&c", nil); len(got) != 1 || got[0] != "http://192.0.2.7:80/?code=a+b%26c" {
		t.Errorf("got %v", got)
	}
}

func TestTheAnnouncementWarns(t *testing.T) {
	var b bytes.Buffer
	r := Remote{Allow: true, Code: "ABC234"}
	r.announce(&terminal.Out{W: &b}, &net.TCPAddr{IP: net.ParseIP("192.0.2.7"), Port: 8640})
	for _, want := range []string{"http://192.0.2.7:8640/?code=ABC234", "move the machine", "█"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("does not say %q:\n%s", want, b.String())
		}
	}
	b.Reset()
	r = Remote{}
	r.announce(&terminal.Out{W: &b}, &net.TCPAddr{IP: net.ParseIP("127.0.0.1"), Port: 8640})
	if b.String() != "the pages:  http://127.0.0.1:8640/   (Ctrl-C stops; --resume goes on later)\n" {
		t.Errorf("got %q", b.String())
	}
}

// The drawing has every module of the code, light where the block is.
func TestTheQRCodeIsDrawnWhole(t *testing.T) {
	const address = "http://192.0.2.7:8640/?code=ABC234"
	text, err := qrText(address)
	if err != nil {
		t.Fatal(err)
	}
	c, err := qr.Encode(address, qr.L)
	if err != nil {
		t.Fatal(err)
	}
	dark := map[rune][2]bool{' ': {true, true}, '▄': {true, false}, '▀': {false, true}, '█': {false, false}}
	for i, line := range strings.Split(strings.TrimSuffix(text, "\n"), "\n") {
		for x, r := range []rune(line) {
			for k := range 2 {
				if y := 2*i + k - 4; dark[r][k] != c.Black(x-4, y) {
					t.Fatalf("module %d, %d is drawn dark: %v", x-4, y, dark[r][k])
				}
			}
		}
	}
}
