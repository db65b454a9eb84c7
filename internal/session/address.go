// SPDX-License-Identifier: Apache-2.0

package session

import (
	"fmt"
	"net"
	"net/netip"
	"strconv"
	"strings"
)

// checkAddress says what is wrong with the address of the pages, before
// anything is opened.
func checkAddress(addr string, remote bool) error {
	host, port, err := net.SplitHostPort(addr)
	if err != nil {
		return fmt.Errorf("--addr must be HOST:PORT, like 127.0.0.1:8640; got %q", addr)
	}
	if n, err := strconv.Atoi(port); err != nil || n < 0 || n > 65535 {
		return fmt.Errorf("--addr: the port must be 0 to 65535, like 127.0.0.1:8640; got %q", port)
	}
	if ip, err := netip.ParseAddr(host); !remote && !strings.EqualFold(host, "localhost") && (err != nil || !ip.IsLoopback()) {
		return fmt.Errorf("--addr %s can be reached from other machines: add --allow-remote if that is wanted, or give 127.0.0.1:%s", addr, port)
	}
	return nil
}
