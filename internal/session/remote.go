// SPDX-License-Identifier: Apache-2.0

package session

import (
	"fmt"
	"net"
	"net/url"
	"os"
	"slices"
	"strings"

	"rsc.io/qr"

	"boardhand/internal/terminal"
	"boardhand/internal/web"
)

// Remote says whether and how other machines may reach the pages.
type Remote struct {
	Allow bool
	Code  string
	Given bool // the address was given by --addr
}

// leastCode is how long an access code must be at least: web's bound on tries
// gives four letters of thirty five days, six (as chosen here) eleven years.
const leastCode = 6

// check says what is wrong with the flags and the address of the pages, or nil.
func (r *Remote) check(addr string) error {
	switch {
	case r.Code != "" && !r.Allow:
		return fmt.Errorf("--code goes with --allow-remote: without it only this machine sees the pages")
	case r.Code != "" && len(r.Code) < leastCode:
		return fmt.Errorf("--code must have at least %d letters or figures; got %d", leastCode, len(r.Code))
	}
	return checkAddress(addr, r.Allow)
}

// address is where the pages are served: at all addresses of this machine if
// others may come and no address was given.
func (r *Remote) address(addr string) string {
	if !r.Allow || r.Given {
		return addr
	}
	if _, port, err := net.SplitHostPort(addr); err == nil {
		return ":" + port
	}
	return addr
}

// open lets other machines in, each with the code.
func (r *Remote) open(s *web.Server) {
	if !r.Allow {
		return
	}
	if r.Code == "" {
		r.Code = web.NewCode()
	}
	s.AllowRemote, s.Code, s.Names = true, r.Code, hostNames()
}

// hostNames are the names by which this machine is called in its network.
func hostNames() []string {
	name, err := os.Hostname()
	if err != nil || name == "" {
		return nil
	}
	name = strings.ToLower(name)
	short, _, _ := strings.Cut(name, ".")
	names := []string{name, short, short + ".local"}
	slices.Sort(names)
	return slices.Compact(names)
}

// announce prints where the pages are.
func (r *Remote) announce(o *terminal.Out, at net.Addr) {
	if !r.Allow {
		o.Printf("the pages:  http://%s/   (Ctrl-C stops; --resume goes on later)\n", at)
		return
	}
	all := pageAddresses(at, r.Code, reachable())
	o.Printf("the pages:  %s   (Ctrl-C stops; --resume goes on later)\n", all[0])
	for _, a := range all[1:] {
		o.Printf("            %s\n", a)
	}
	o.Printf("Whoever has this code can see the room and move the machine; it is no lock against somebody in your network who listens.\n")
	if picture, err := qrText(all[0]); err == nil && !o.JSON {
		o.Printf("%s", picture)
	}
}

// reachable are this machine's addresses in its networks, those of version 4 first.
func reachable() (out []net.IP) {
	addrs, err := net.InterfaceAddrs()
	if err != nil {
		return nil
	}
	var six []net.IP
	for _, a := range addrs {
		n, ok := a.(*net.IPNet)
		switch {
		case !ok || n.IP.IsLoopback() || n.IP.IsLinkLocalUnicast():
		case n.IP.To4() != nil:
			out = append(out, n.IP)
		default:
			six = append(six, n.IP)
		}
	}
	return append(out, six...)
}

// pageAddresses are what can be typed elsewhere to see the pages, the address
// most likely to work first.
func pageAddresses(at net.Addr, code string, ips []net.IP) (out []string) {
	host, port, err := net.SplitHostPort(at.String())
	if err != nil {
		return []string{"http://" + at.String() + "/"}
	}
	page := func(host string) string {
		u := url.URL{Scheme: "http", Host: net.JoinHostPort(host, port), Path: "/", RawQuery: url.Values{"code": {code}}.Encode()}
		return u.String()
	}
	if ip := net.ParseIP(host); ip != nil && !ip.IsUnspecified() {
		return []string{page(host)}
	}
	for _, ip := range ips {
		out = append(out, page(ip.String()))
	}
	for _, n := range hostNames() {
		if strings.HasSuffix(n, ".local") {
			out = append(out, page(n))
		}
	}
	return append(out, page("localhost"))
}

// qrText draws an address as a QR code (ISO/IEC 18004), two rows of modules a
// line, dark on the terminal's light: a light margin of four modules round it.
func qrText(address string) (string, error) {
	c, err := qr.Encode(address, qr.L)
	if err != nil {
		return "", err
	}
	const margin = 4
	var b strings.Builder
	for y := -margin; y < c.Size+margin; y += 2 {
		for x := -margin; x < c.Size+margin; x++ {
			// The blocks are the light modules: most terminals are dark.
			switch above, below := c.Black(x, y), c.Black(x, y+1); {
			case above && below:
				b.WriteString(" ")
			case above:
				b.WriteString("▄")
			case below:
				b.WriteString("▀")
			default:
				b.WriteString("█")
			}
		}
		b.WriteString("\n")
	}
	return b.String(), nil
}
