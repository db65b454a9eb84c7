// SPDX-License-Identifier: Apache-2.0

package main

import (
	"slices"
	"strings"
	"testing"
	"time"
)

// The format is that of the package testing: name, runs, then pairs of value and unit.
func TestParsed(t *testing.T) {
	got := parsed("chess", `goos: linux
BenchmarkPerft-2   	      12	  98765432 ns/op	  4085603 nodes	     160 B/op	       3 allocs/op
BenchmarkMapAt/far 	 1000000	        45.25 ns/op
PASS
ok  	boardhand/internal/chess	2.1s
`)
	if len(got) != 2 {
		t.Fatalf("%d benchmarks: %+v", len(got), got)
	}
	a, b := got[0], got[1]
	if a.name != "Perft" || a.time != "98.8 ms" || a.bytes != "160" || a.allocs != "3" || !slices.Equal(a.more, []string{"4085603 nodes"}) {
		t.Errorf("%+v", a)
	}
	if b.name != "MapAt/far" || b.time != "45.2 ns" || b.bytes != "" {
		t.Errorf("%+v", b)
	}
}

// The median of an odd number of runs is the middle one, whatever their order.
func TestPageHasMedians(t *testing.T) {
	took := []command{{memory: 9e6, clock: time.Second}, {memory: 1e6, clock: 3 * time.Second}, {memory: 2e6, clock: 2 * time.Second}}
	if m := median(took, func(c command) int64 { return c.memory }); m != 2e6 {
		t.Errorf("%d", m)
	}
	c := command{args: []string{"assess", "x"}, clock: median(took, func(c command) time.Duration { return c.clock }), memory: 2e6}
	text := page([][2]string{{"cores", "2"}}, []command{c}, []benchmark{{pkg: "chess", name: "Perft", time: "1 ms"}}, 3, time.Second)
	for _, want := range []string{"| cores | 2 |", "| `boardhand assess x` | 2.00 | 0.00 | 2 |", "| `chess` | Perft | 1 ms |", "median of 3 runs"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page lacks %q:\n%s", want, text)
		}
	}
}

// Packages are found by what stands in their tests.
func TestPackages(t *testing.T) {
	got, err := packages("../../internal")
	if err != nil || !slices.Contains(got, "../../internal/chess") || slices.Contains(got, "../../internal/unit") {
		t.Errorf("%v, %v", got, err)
	}
}

// A busy machine is told by the first figure of /proc/loadavg (proc(5)).
func TestIsBusy(t *testing.T) {
	if !isBusy("4000.10 1.00 1.00 9/500 77") || isBusy("0.05 90.00 90.00 1/500 77") || isBusy("") {
		t.Error("the first figure, against the cores, tells")
	}
}
