// SPDX-License-Identifier: Apache-2.0

// Command benchmarks measures how fast the program is on this machine and writes
// docs/benchmarks.md: whole commands, several times each, and the Go benchmarks.
package main

import (
	"flag"
	"fmt"
	"os"
	"runtime"
	"strconv"
	"strings"
	"time"
)

func main() {
	out := flag.String("o", "docs/benchmarks.md", "page to write")
	runs := flag.Int("runs", 5, "how often each command is run; the median counts")
	span := flag.Duration("benchtime", time.Second, "how long each Go benchmark runs")
	flag.Parse()
	if *runs < 1 || flag.NArg() > 0 {
		fail(fmt.Errorf("-runs must be 1 or more, and nothing else is taken"))
	}
	facts := machine()
	whole, err := commands(*runs)
	fail(err)
	parts, err := benchmarks(*span)
	fail(err)
	fail(os.WriteFile(*out, []byte(page(facts, whole, parts, *runs, *span)), 0o644))
	fmt.Println("wrote", *out)
}

// page is the text of docs/benchmarks.md.
func page(facts [][2]string, whole []command, parts []benchmark, runs int, span time.Duration) string {
	var b strings.Builder
	b.WriteString("# Benchmarks\n\nWritten by `make benchmarks`, which runs whole commands and the Go benchmarks and sets down the machine that they ran on. " +
		"Another machine has other figures; these are to be compared with those that the same machine wrote before. Where other work ran beside it, " +
		"processor time says more than time on the clock.\n\n## The machine\n\n| fact | value |\n| --- | --- |\n")
	for _, f := range facts {
		fmt.Fprintf(&b, "| %s | %s |\n", f[0], f[1])
	}
	if isBusy(firstLine("/proc/loadavg")) {
		b.WriteString(busy)
	}
	fmt.Fprintf(&b, "\n## Whole commands\n\nFrom the start of the process to its end, median of %d runs.\n\n"+
		"| command | on the clock, s | processor, s | most memory, MB |\n| --- | ---: | ---: | ---: |\n", runs)
	for _, c := range whole {
		fmt.Fprintf(&b, "| `%s` | %.2f | %.2f | %.0f |\n", c.name(), c.clock.Seconds(), c.processor.Seconds(), float64(c.memory)/1e6)
	}
	fmt.Fprintf(&b, "\n## Parts\n\n`go test -bench . -benchtime %v`. A benchmark's own measures stand under *more*.\n\n"+
		"| package | benchmark | time | bytes | allocations | more |\n| --- | --- | ---: | ---: | ---: | --- |\n", span)
	for _, p := range parts {
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s | %s | %s |\n", p.pkg, p.name, p.time, p.bytes, p.allocs, strings.Join(p.more, ", "))
	}
	return b.String()
}

// busy is said where other work ran beside the measurement.
const busy = "\n**Other work wanted the cores all the while.** Times on the clock, those of the parts too, are several times " +
	"what an idle machine has; processor times hold.\n"

// isBusy says whether more processes than half the cores have wanted one of late.
func isBusy(loadavg string) bool {
	first, _, _ := strings.Cut(loadavg, " ")
	load, err := strconv.ParseFloat(first, 64)
	return err == nil && load > float64(runtime.NumCPU())/2+1 // the measurement itself is one
}

// machine is what the figures depend on.
func machine() [][2]string {
	return [][2]string{
		{"processor", field("/proc/cpuinfo", "model name")},
		{"cores", fmt.Sprint(runtime.NumCPU())},
		{"memory", field("/proc/meminfo", "MemTotal")},
		{"system", runtime.GOOS + "/" + runtime.GOARCH + " " + firstLine("/proc/sys/kernel/osrelease")},
		{"Go", runtime.Version()},
		{"processes that wanted a core when it began (1, 5, 15 minutes)", strings.Join(strings.Fields(firstLine("/proc/loadavg") + " ? ? ?")[:3], ", ")},
		{"day", time.Now().UTC().Format(time.DateOnly)},
	}
}

// field is what a file of "name : value" lines says of a name; "?" where it is not there.
func field(path, name string) string {
	text, _ := os.ReadFile(path) // another system has no such file
	for line := range strings.Lines(string(text)) {
		if k, v, ok := strings.Cut(line, ":"); ok && strings.TrimSpace(k) == name {
			return strings.TrimSpace(v)
		}
	}
	return "?"
}

func firstLine(path string) string {
	text, _ := os.ReadFile(path) // another system has no such file
	line, _, _ := strings.Cut(string(text), "\n")
	return line
}

func fail(err error) {
	if err != nil {
		fmt.Fprintln(os.Stderr, "benchmarks:", err)
		os.Exit(1)
	}
}
